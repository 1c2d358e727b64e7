// The aftercare cards: a decoder of another house reads each code back, and it is the address printed below it.

import { execFileSync } from "node:child_process";
import { existsSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { opened, WIDTHS } from "../browser.mjs";

/** What counts as one card: whatever holds one code and one printed address. */
export const CARD = "[data-card], .card";

const LEAST_MILLIMETRES = 24.5;
const MILLIMETRES_A_PIXEL = 25.4 / 96;

export async function cards(report, browser, site, artefact) {
  const file = join(site.privateFolder, "cards.html");
  if (!existsSync(file)) {
    await report.check("cards: there are cards", () => [`${file} is missing`]);
    return;
  }
  await opened(browser, pathToFileURL(file).href, { viewport: WIDTHS.desk, deviceScaleFactor: 3 }, async (page) => {
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
        const code = card.locator("svg").first();
        const picture = artefact(`card-${index + 1}.png`);
        await withQuietZone(page, code, picture);
        const faults = [];
        const read = decode(picture);
        if (read !== printed) faults.push(`read "${read}", printed "${printed}"`);
        const path = printed.slice(site.baseAddress.length + 1);
        if (!site.pages.includes(path)) faults.push(`no page at ${path}`);
        return faults;
      });
    }
    await report.check("cards: every code is 25 mm or more on paper", async () => {
      const sizes = await page.locator(`${CARD} >> svg`).evaluateAll((all) => all.map((e) => e.getBoundingClientRect().width));
      const smallest = Math.min(...sizes) * MILLIMETRES_A_PIXEL;
      return smallest >= LEAST_MILLIMETRES ? [] : [`the smallest is ${smallest.toFixed(1)} mm`];
    });
    await report.check("cards: no two share an address", () => (addresses.size === found.length ? [] : [`${addresses.size} for ${found.length}`]));
    writeFileSync(artefact("cards.pdf"), await page.pdf({ format: "A4", preferCSSPageSize: true }));
  });
}

/** The address as printed: it may be broken over lines, and the scheme may be left out. */
function printedAddress(words, baseAddress) {
  const joined = words.replace(/\s+/g, "");
  const host = baseAddress.replace(/^https?:\/\//, "").replace(/[.]/g, "\\.");
  const path = new RegExp(`${host}/(c/[a-z2-7]{2}/[a-z2-7]{24}\\.html)`).exec(joined)?.[1];
  return path && `${baseAddress}/${path}`;
}

/** A picture of the code with the white of the card round it, as a phone would see it. */
async function withQuietZone(page, code, path) {
  await code.scrollIntoViewIfNeeded();
  const box = await code.boundingBox();
  const margin = 4;
  const clip = { x: box.x - margin, y: box.y - margin, width: box.width + 2 * margin, height: box.height + 2 * margin };
  await page.screenshot({ path, clip });
}

function decode(path) {
  try {
    return execFileSync("zbarimg", ["--nodbus", "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", path], { encoding: "utf8" }).trim();
  } catch (error) {
    if (error.code === "ENOENT") throw new Error("zbarimg is missing: install Debian's package `zbar-tools`", { cause: error });
    return "";
  }
}
