// The markup, by the reference checker of the WHATWG standard: one start of Java for all pages.

import { execFileSync } from "node:child_process";
import { existsSync } from "node:fs";
import { join, relative } from "node:path";

const JAR = join(import.meta.dirname, "../node_modules/vnu-jar/build/dist/vnu.jar");

export async function vnuChecks(report, files, root) {
  const faults = new Map(files.map((file) => [file, []]));
  let read = false;
  await report.check(`vnu reads ${files.length} pages`, () => {
    if (!existsSync(JAR)) return [`${JAR} is missing: run \`npm ci --prefix tests/browser\``];
    const told = JSON.parse(run(["-jar", JAR, "--format", "json", "--stdout", "--exit-zero-always", ...files]));
    for (const message of told.messages) {
      const file = decodeURIComponent(message.url ?? "").replace(/^file:/, "");
      // The checker trims a style text before it hashes it; browsers do not (CSP Level 3, "hash-source").
      if (message.type === "info") continue;
      (faults.get(file) ?? faults.get(files[0])).push(`${message.lastLine}:${message.lastColumn} ${message.message}`);
    }
    read = !told.messages.some((message) => message.type === "non-document-error");
    return read ? [] : ["the checker itself failed"];
  });
  // A page nobody read is not valid.
  if (read) for (const [file, found] of faults) await report.check(`${relative(root, file)}: valid by vnu`, () => found);
}

function run(options) {
  try {
    return execFileSync("java", options, { encoding: "utf8", maxBuffer: 64 * 1024 * 1024, stdio: ["ignore", "pipe", "inherit"] });
  } catch (error) {
    if (error.code === "ENOENT") throw new Error("java is missing: install Debian's package `default-jre-headless`", { cause: error });
    throw error;
  }
}
