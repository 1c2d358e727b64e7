// Looks at the built demo in a real browser.
//
//   node run.mjs                       builds the demo with target/release/afterhue in a folder of its own
//   node run.mjs --binary PATH         the same with another binary
//   node run.mjs --site DIR            takes a salon folder that is built already
//
// One line a check; the closing line is "N passed, N failed". Exit code 1 when anything failed or nothing could run.

import { mkdirSync, rmSync } from "node:fs";
import { availableParallelism } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import { launch, opened } from "./browser.mjs";
import { accessibility } from "./checks/accessibility.mjs";
import { calendars } from "./checks/calendar.mjs";
import { cards } from "./checks/cards.mjs";
import { layout } from "./checks/layout.mjs";
import { markup } from "./checks/markup.mjs";
import { print } from "./checks/print.mjs";
import { privacy } from "./checks/privacy.mjs";
import { scriptOff } from "./checks/script_off.mjs";
import { swatchCount, swatches } from "./checks/swatches.mjs";
import { Report } from "./report.mjs";
import { serve } from "./serve.mjs";
import { below, builtSite } from "./site.mjs";

const ARTEFACTS = join(import.meta.dirname, "artefacts");
const LEAST_UNLIKE_PAGES = 6;

const { values } = parseArgs({ options: { site: { type: "string" }, binary: { type: "string" } } });
process.exitCode = await main(values);

async function main(options) {
  rmSync(ARTEFACTS, { recursive: true, force: true });
  const report = new Report();
  let site, host, browser;
  try {
    site = builtSite(options);
    host = await serve(site.publicFolder);
    browser = await launch();
    await everything(report, browser, site, host);
  } catch (error) {
    await report.check("the suite can run", () => [error?.message ?? error]);
  } finally {
    await browser?.close();
    await host?.stop();
    site?.clear();
  }
  return report.close();
}

async function everything(report, browser, site, host) {
  const pages = site.pages.map((path) => view(path.split("/").slice(1).join("").slice(0, 8), join(site.publicFolder, path), `${host.origin}/${path}`));
  await unlike(report, browser, pages);
  const waiting = [...pages];
  const work = async () => {
    for (let page = waiting.shift(); page; page = waiting.shift()) await clientPage(report, browser, page, site);
  };
  await Promise.all(Array.from({ length: availableParallelism() + 1 }, work));
  for (const path of below(site.privateFolder, ".html")) {
    const file = join(site.privateFolder, path);
    await accessibility(report, browser, view(`private/${path}`, file, pathToFileURL(file).href));
    await markup(report, view(`private/${path}`, file));
  }
  await calendars(report, site);
  await cards(report, browser, site, (name) => artefact("cards", name));
}

async function clientPage(report, browser, page, site) {
  await markup(report, page);
  await privacy(report, browser, page, site);
  await accessibility(report, browser, page);
  await layout(report, browser, page);
  await scriptOff(report, browser, page);
  await swatches(report, browser, page);
  await print(report, browser, page);
}

/** A page to look at: its short name, its file, its address, and where its pictures go. */
function view(name, file, address) {
  return { name, file, address, artefact: (picture) => artefact(name, picture) };
}

function artefact(group, name) {
  const folder = join(ARTEFACTS, group.replaceAll("/", "-"));
  mkdirSync(folder, { recursive: true });
  return join(folder, name);
}

/** The demo must give the suite something to look at: unlike pages, most of them with colours. */
async function unlike(report, browser, pages) {
  await report.check(`at least ${LEAST_UNLIKE_PAGES} client pages that differ`, async () => {
    const headings = new Set();
    for (const { address } of pages) headings.add(await opened(browser, address, {}, (page) => page.locator("h1").first().innerText()));
    return headings.size >= LEAST_UNLIKE_PAGES ? [] : [`${pages.length} pages, ${headings.size} first headings`];
  });
  await report.check("most client pages show swatches", async () => {
    let coloured = 0;
    for (const { address } of pages) coloured += (await swatchCount(browser, address)) > 0 ? 1 : 0;
    return coloured * 2 > pages.length ? [] : [`${coloured} of ${pages.length}`];
  });
}
