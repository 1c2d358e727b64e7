// The demo salon, built afresh in a folder of its own: the source tree stays as it is.

import { execFileSync } from "node:child_process";
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, relative, resolve } from "node:path";

const ROOT = resolve(import.meta.dirname, "../..");

/** The day on which the demo is built: it is part of the demo, as its newest visits are a few days old then. */
export const TODAY = "2026-11-25";

/** The program, unless another is named. */
export const BINARY = join(ROOT, "target/release/afterhue");

/** Builds the demo with the release binary, or takes a folder that is built already. */
export function builtSite({ site, theme, sealed, binary = BINARY }) {
  if (site) return describe(resolve(site), () => {});
  if (!existsSync(binary)) throw new Error(`${binary} is missing: run \`cargo build --release\` first`);
  const folder = mkdtempSync(join(tmpdir(), "afterhue-demo-"));
  const clear = () => rmSync(folder, { recursive: true, force: true });
  const wanted = (path) => !/\/(public|private)$/.test(path);
  cpSync(join(ROOT, "site-demo"), folder, { recursive: true, filter: wanted });
  const settings = join(folder, "salon.toml");
  const change = (line, value) => writeFileSync(settings, readFileSync(settings, "utf8").replace(line, value));
  if (theme) change(/^theme = .*$/m, `theme = "${theme}"`);
  if (sealed) change(/^sealed = .*$/m, "sealed = true");
  try {
    execFileSync(binary, ["pages", folder, "--today", TODAY], { cwd: ROOT, stdio: ["ignore", "inherit", theme || sealed ? "ignore" : "inherit"] });
    // The board, the stylist sheets and the book's calendar are private pages too.
    execFileSync(binary, ["book", folder, "--today", TODAY], { cwd: ROOT, stdio: "ignore" });
  } catch (error) {
    clear();
    throw error;
  }
  return describe(folder, clear);
}

function describe(folder, clear) {
  const publicFolder = join(folder, "public");
  const privateFolder = join(folder, "private");
  for (const needed of [publicFolder, privateFolder, join(folder, "clients")]) {
    if (!existsSync(needed)) throw new Error(`${needed} is missing`);
  }
  const salon = readFileSync(join(folder, "salon.toml"), "utf8");
  return {
    folder,
    publicFolder,
    privateFolder,
    clear,
    baseAddress: /^base_address\s*=\s*"([^"]+)"/m.exec(salon)[1].replace(/\/$/, ""),
    salonName: /^name\s*=\s*"([^"]+)"/m.exec(salon)[1],
    clients: clients(join(folder, "clients")),
    pages: below(publicFolder, ".html").filter((path) => path.startsWith("c/")),
    calendars: below(publicFolder, ".ics"),
  };
}

/** Code, first name and whether the client wants it shown, as the client files say. */
function clients(folder) {
  return readdirSync(folder).filter((name) => name.endsWith(".toml")).map((name) => {
    const text = readFileSync(join(folder, name), "utf8");
    return {
      code: name.replace(/\.toml$/, ""),
      firstName: /^first_name\s*=\s*"([^"]+)"/m.exec(text)?.[1],
      shown: /^show_first_name\s*=\s*true/m.test(text),
    };
  });
}

/** Paths of the files below a folder with this ending, with forward slashes, in order. */
export function below(folder, ending) {
  const found = [];
  const open = [folder];
  while (open.length > 0) {
    const here = open.pop();
    for (const name of readdirSync(here)) {
      const path = join(here, name);
      if (statSync(path).isDirectory()) open.push(path);
      else if (name.endsWith(ending)) found.push(relative(folder, path).replaceAll("\\", "/"));
    }
  }
  return found.sort();
}
