// The aftercare cards: a decoder of another house reads each code back, and it is the address printed below it.

import { execFileSync } from "node:child_process";
import { existsSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { opened, WIDTHS } from "../browser.mjs";
import { poppler, sheets } from "./print.mjs";

/** One card, which holds one code and one printed address. */
const CARD = ".card";
const CODE = "svg.code";

const LEAST_MILLIMETRES = 24.9;
const LEAST_MODULE_MILLIMETRES = 0.6;
const LEAST_QUIET_MODULES = 4;
const MILLIMETRES_A_PIXEL = 25.4 / 96;

export async function cards(report, browser, site, artefact) {
  const file = join(site.privateFolder, "cards.html");
  if (!existsSync(file)) {
    await report.check("cards: there are cards", () => [`${file} is missing`]);
    return;
  }
  await opened(browser, pathToFileURL(file).href, { viewport: WIDTHS.desk, deviceScaleFactor: 3 }, async ({ page }) => {
    // The size on paper counts, so the page is looked at as paper.
    await page.emulateMedia({ media: "print" });
    const found = await page.locator(CARD).all();
    await report.check("cards: at least six", () => (found.length >= 6 ? [] : [`${found.length} cards`]));
    const addresses = new Set();
    for (const [index, card] of found.entries()) {
      const words = await card.innerText();
      const printed = printedAddress(words, site.baseAddress);
      await report.check(`card ${index + 1}: the code reads back as the printed address, and the page exists`, async () => {
        if (!printed) return [`no address printed: ${words.replace(/\s+/g, " ").slice(0, 120)}`];
        addresses.add(printed);
        const code = card.locator(CODE);
        const picture = artefact(`card-${index + 1}.png`);
        await code.screenshot({ path: picture });
        const faults = [];
        const read = decode(picture);
        if (read !== printed) faults.push(`read "${read}", printed "${printed}"`);
        const path = printed.slice(site.baseAddress.length + 1).split("#")[0];
        if (!site.pages.includes(path)) faults.push(`no page at ${path}`);
        return faults;
      });
    }
    await report.check("cards: every code is 25 mm wide on paper, with its quiet zone round it", async () => {
      const codes = await page.locator(`${CARD} ${CODE}`).evaluateAll(measured);
      return codes.flatMap((code, index) => tooSmall(code).map((fault) => `code ${index + 1} ${fault}`));
    });
    await report.check("cards: nothing on a card is cut off", () =>
      page.locator(CARD).evaluateAll((all) =>
        all.flatMap((card, index) => {
          const over = Math.max(card.scrollHeight - card.clientHeight, card.scrollWidth - card.clientWidth);
          return over > 1 ? [`card ${index + 1} by ${over} pixels`] : [];
        }),
      ),
    );
    await report.check("cards: no two share an address", () => (addresses.size === found.length ? [] : [`${addresses.size} for ${found.length}`]));
    writeFileSync(artefact("cards.pdf"), await page.pdf({ format: "A4", preferCSSPageSize: true }));
  });
  await report.check("cards: one on A6 for each client on the sheets", () => {
    const single = singles(site);
    return single.length >= 6 ? [] : [`${single.length} single cards`];
  });
  for (const name of singles(site).slice(0, SINGLES_LOOKED_AT)) await single(report, browser, site, name, artefact);
}

const SINGLES_LOOKED_AT = 4;

function singles(site) {
  const folder = join(site.privateFolder, "cards");
  return existsSync(folder) ? readdirSync(folder).filter((name) => name.endsWith(".html")).sort() : [];
}

/** A card on a sheet of its own: one sheet of A6, its code as on the sheets, and read from the print itself. */
async function single(report, browser, site, name, artefact) {
  const address = pathToFileURL(join(site.privateFolder, "cards", name)).href;
  await opened(browser, address, { viewport: WIDTHS.desk }, async ({ page }) => {
    await page.emulateMedia({ media: "print" });
    const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: false });
    const file = artefact(`single-${name.replace(/\.html$/, "")}.pdf`);
    writeFileSync(file, pdf);
    await report.check(`single card ${name}: one sheet of A6`, () => {
      const [, width, height] = /Page size:\s+([\d.]+) x ([\d.]+)/.exec(poppler("pdfinfo", [file]).toString()).map(Number);
      const millimetres = [width, height].map((points) => Math.round((points / 72) * 25.4));
      const faults = sheets(pdf) === 1 ? [] : [`${sheets(pdf)} sheets`];
      return millimetres.join() === "105,148" ? faults : faults.concat(`${millimetres.join(" x ")} mm`);
    });
    await report.check(`single card ${name}: the code is 25 mm and reads back from a print at 150 dots an inch`, async () => {
      const faults = (await page.locator(CODE).evaluateAll(measured)).flatMap(tooSmall);
      const printed = printedAddress(await page.locator(".address").innerText(), site.baseAddress);
      const picture = file.replace(/\.pdf$/, "");
      poppler("pdftoppm", ["-r", "150", "-png", "-singlefile", file, picture]);
      const read = decode(`${picture}.png`);
      return read === printed && printed ? faults : faults.concat(`read "${read}", printed "${printed}"`);
    });
  });
}

/** What is too small about a measured code. */
function tooSmall({ wide, modules, quiet }) {
  const millimetres = wide * MILLIMETRES_A_PIXEL;
  const faults = [];
  if (millimetres < LEAST_MILLIMETRES) faults.push(`is ${millimetres.toFixed(1)} mm`);
  if (millimetres / modules < LEAST_MODULE_MILLIMETRES) faults.push(`has modules of ${(millimetres / modules).toFixed(2)} mm`);
  if (quiet < LEAST_QUIET_MODULES) faults.push(`has ${quiet} quiet modules`);
  return faults;
}

/** Runs in the page: width of each symbol without its quiet zone in CSS pixels and in modules, and the quiet zone in modules. */
function measured(codes) {
  return codes.map((code) => {
    const dark = code.querySelector("path[stroke]").getBBox();
    const scale = code.getBoundingClientRect().width / code.viewBox.baseVal.width;
    return { wide: dark.width * scale, modules: dark.width, quiet: dark.x - code.viewBox.baseVal.x };
  });
}

/** The address as printed: it may be broken over lines, and the scheme may be left out. */
function printedAddress(words, baseAddress) {
  const joined = words.replace(/\s+/g, "");
  const host = baseAddress.replace(/^https?:\/\//, "").replace(/[.]/g, "\\.");
  const path = new RegExp(`${host}/(c/[a-z2-7]{2}/[a-z2-7]{24}\\.html(?:#[a-z2-7]{26})?)`).exec(joined)?.[1];
  return path && `${baseAddress}/${path}`;
}

function decode(path) {
  try {
    return execFileSync("zbarimg", ["--nodbus", "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", path], { encoding: "utf8" }).trim();
  } catch (error) {
    if (error.code === "ENOENT") throw new Error("zbarimg is missing: install Debian's package `zbar-tools`", { cause: error });
    return "";
  }
}
