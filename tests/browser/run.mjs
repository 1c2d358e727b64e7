// Looks at the built demo in a real browser.
//
//   node run.mjs                       builds the demo with target/release/afterhue in a folder of its own
//   node run.mjs --binary PATH         the same with another binary
//   node run.mjs --site DIR            takes a salon folder that is built already
//   node run.mjs --chairside           only the chairside
//   node run.mjs --sealed              only sealed pages
//
// One line a check; the closing line is "N passed, N failed". Exit code 1 when anything failed or nothing could run.

import { mkdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { availableParallelism } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import { launch, opened, WIDTHS } from "./browser.mjs";
import { accessibility } from "./checks/accessibility.mjs";
import { calendars } from "./checks/calendar.mjs";
import { chairside } from "./checks/chairside.mjs";
import { cards } from "./checks/cards.mjs";
import { firefox } from "./checks/firefox.mjs";
import { layout } from "./checks/layout.mjs";
import { lighthouseChecks } from "./checks/lighthouse.mjs";
import { markup } from "./checks/markup.mjs";
import { modes } from "./checks/modes.mjs";
import { print, privatePaper } from "./checks/print.mjs";
import { discreet, quiet } from "./checks/privacy.mjs";
import { scriptOff } from "./checks/script_off.mjs";
import { rightToLeft } from "./checks/right_to_left.mjs";
import { sealed } from "./checks/sealed.mjs";
import { SWATCH, swatches } from "./checks/swatches.mjs";
import { today } from "./checks/today.mjs";
import { vnuChecks } from "./checks/vnu.mjs";
import { weight } from "./checks/weight.mjs";
import { Report } from "./report.mjs";
import { serve } from "./serve.mjs";
import { BINARY, below, builtSite } from "./site.mjs";

const ARTEFACTS = join(import.meta.dirname, "artefacts");
const LEAST_UNLIKE_PAGES = 6;
const UNLIKE_IN_OTHER_THEME = 3;
const OTHER_THEME = "daylight";
const MOST_NODES = 1500;

const { values } = parseArgs({ options: { site: { type: "string" }, binary: { type: "string" }, chairside: { type: "boolean" }, sealed: { type: "boolean" } } });
process.exitCode = await main(values);

async function main(options) {
  rmSync(ARTEFACTS, { recursive: true, force: true });
  const report = new Report();
  let site, host, browser;
  try {
    site = builtSite(options);
    host = await serve(site.publicFolder);
    browser = await launch();
    const only = options.chairside || options.sealed;
    if (!only) await everything(report, browser, site, host);
    // A folder built already has one theme; the demo is built here, so its other one is looked at too.
    if (!options.site && !only) await otherTheme(report, browser, options);
    if (!options.site && !options.chairside) await sealedPages(report, browser, options);
    // The chairside writes: only ever into a demo built here.
    if (!options.site && !options.sealed) await chairside(report, browser, site, options.binary ?? BINARY, (name) => artefact("chairside", name));
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
  const pages = site.pages.map((path) => {
    const name = path.split("/").slice(1).join("").slice(0, 8);
    return view(name, join(site.publicFolder, path), `${host.origin}/${path}`);
  });
  const privatePages = below(site.privateFolder, ".html");
  const files = [...pages.map(({ file }) => file), join(site.publicFolder, "404.html"), ...privatePages.map((path) => join(site.privateFolder, path))];
  await vnuChecks(report, files, site.folder);
  const headings = new Set();
  let coloured = 0;
  const differ = mostUnlike(pages, LEAST_UNLIKE_PAGES);
  await atOnce([
    ...pages.map((page) => async () => {
      const found = await clientPage(report, browser, page, site);
      headings.add(found.heading);
      coloured += found.swatches > 0 ? 1 : 0;
    }),
    ...differ.map((page) => () => closely(report, browser, page)),
  ]);
  await report.check(`at least ${LEAST_UNLIKE_PAGES} client pages that differ`, () =>
    headings.size >= LEAST_UNLIKE_PAGES ? [] : [`${pages.length} pages, ${headings.size} first headings`],
  );
  await report.check("most client pages show the colour of hair", () =>
    coloured * 2 > pages.length ? [] : [`${coloured} of ${pages.length}`],
  );
  for (const path of fewOfEach(privatePages)) await privatePage(report, browser, join(site.privateFolder, path), path);
  await calendars(report, site);
  await cards(report, browser, site, (name) => artefact("cards", name));
  await firefox(report, differ);
  // Alone: what blocks a page is measured.
  await lighthouseChecks(report, differ);
}

/** The pages that differ most, in the theme that the demo does not choose. */
async function otherTheme(report, browser, options) {
  const site = builtSite({ ...options, theme: OTHER_THEME });
  const host = await serve(site.publicFolder);
  try {
    const views = site.pages.map((path, at) => view(`${OTHER_THEME}-${at}`, join(site.publicFolder, path), `${host.origin}/${path}`));
    await vnuChecks(report, views.map(({ file }) => file), site.folder);
    const differ = mostUnlike(views, UNLIKE_IN_OTHER_THEME);
    await atOnce(differ.flatMap((page) => [() => clientPage(report, browser, page, site), () => closely(report, browser, page)]));
    // A page breaks over its sheets where its words happen to end: each is printed.
    for (const page of views.filter((one) => !differ.includes(one))) {
      await opened(browser, page.address, {}, (visit) => print(report, visit.page, page));
    }
    await cards(report, browser, site, (name) => artefact(`cards-${OTHER_THEME}`, name));
  } finally {
    await host.stop();
    site.clear();
  }
}

/** The demo with every page sealed. */
async function sealedPages(report, browser, options) {
  const site = builtSite({ ...options, sealed: true });
  const host = await serve(site.publicFolder);
  try {
    await vnuChecks(report, site.pages.slice(0, 2).map((path) => join(site.publicFolder, path)), site.folder);
    await sealed(report, browser, site, host, view);
    await cards(report, browser, site, (name) => artefact("cards-sealed", name));
  } finally {
    await host.stop();
    site.clear();
  }
}

/** The pages that differ most: the heaviest, then each time the one whose parts are least like those of any chosen before. */
function mostUnlike(views, count) {
  const left = views.map((view) => ({ view, parts: partsOf(view.file), size: statSync(view.file).size }));
  left.sort((one, other) => other.size - one.size);
  const chosen = left.splice(0, 1);
  while (chosen.length < count && left.length > 0) {
    const nearest = ({ parts }) => Math.max(...chosen.map((other) => alike(parts, other.parts)));
    left.sort((one, other) => nearest(one) - nearest(other));
    chosen.push(left.shift());
  }
  return chosen.map(({ view }) => view);
}

/** What a page is made of: its headings, how many bands its ribbon has, and whether a visit is booked. */
function partsOf(file) {
  const html = readFileSync(file, "utf8");
  return new Set([...html.matchAll(/<h[23]>[^<]*|class="(?:ribbon n\d|day booked|note)"/g)].map(([part]) => part));
}

/** The share that two sets have in common (Jaccard 1901). */
function alike(one, other) {
  const both = [...one].filter((part) => other.has(part)).length;
  return both / (one.size + other.size - both);
}

/** Private pages of one folder are alike: each folder's first few are looked at. */
function fewOfEach(paths) {
  const seen = new Map();
  return paths.filter((path) => {
    const folder = path.split("/").slice(0, -1).join("/");
    seen.set(folder, (seen.get(folder) ?? 0) + 1);
    return seen.get(folder) <= 3;
  });
}

/** Every client page, opened once on a phone and once on a desk: its markup, its head, its weight, its colours, its print and its layout. */
async function clientPage(report, browser, view, site) {
  await markup(report, view);
  const found = await opened(browser, view.address, {}, async (visit) => {
    const { page } = visit;
    const seen = { heading: await page.locator("h1").first().innerText(), swatches: await page.locator(SWATCH).count() };
    await discreet(report, page, view, site);
    await weight(report, page, view);
    await swatches(report, page, view.name);
    await print(report, page, view);
    await quiet(report, visit, view, "phone");
    // Contrast follows the client's own colour, light and dark.
    await accessibility(report, page, view.name, ["phone"]);
    await layout(report, page, view);
    return seen;
  });
  await opened(browser, view.address, { viewport: WIDTHS.desk, colorScheme: "dark" }, async (visit) => {
    await visit.page.mouse.wheel(0, 20000);
    await quiet(report, visit, view, "desk");
  });
  return found;
}

/** What is asked of the pages that differ most: other days, no script, a desk, and every way to look at a page. */
async function closely(report, browser, view) {
  await opened(browser, view.address, {}, async ({ page }) => {
    await scriptOff(report, browser, page, view);
    await today(report, browser, view);
    await accessibility(report, page, view.name, ["desk"]);
  });
  await modes(report, browser, view);
  await rightToLeft(report, browser, view);
}

/** Does pieces of work that do not mind each other, one more at a time than there are processors, as each waits now and then. */
async function atOnce(pieces) {
  const waiting = [...pieces];
  const work = async () => {
    for (let piece = waiting.shift(); piece; piece = waiting.shift()) await piece();
  };
  await Promise.all(Array.from({ length: availableParallelism() + 1 }, work));
}

/** A page for the salon alone: everything of the acceptance table that is asked of private pages, and printed whole. */
async function privatePage(report, browser, file, path) {
  const name = `private/${path}`;
  const address = pathToFileURL(file).href;
  const to = (picture) => artefact(name, picture);
  await markup(report, { name, file });
  await opened(browser, address, {}, async ({ page, seen }) => {
    await report.check(`${name}: one request, no complaint`, () =>
      seen.requests.length === 1 ? seen.complaints : [...seen.complaints, `requests: ${seen.requests.join(" ")}`],
    );
    await report.check(`${name}: at most ${MOST_NODES} elements`, async () => {
      const count = await page.evaluate(() => document.querySelectorAll("*").length);
      return count <= MOST_NODES ? [] : [`${count} elements`];
    });
    await accessibility(report, page, name);
    if (path.includes("card")) return;
    await privatePaper(report, page, name, to);
    await layout(report, page, { name, address, artefact: to });
  });
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
