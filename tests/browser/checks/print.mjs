// On paper: at most two sheets of A4 and of Letter, every heading and every colour of hair still there.

import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";

const MOST_SHEETS = 2;
const FORMATS = ["A4", "Letter"];

/** A printed colour may be this far from its sRGB value, a channel: the rasteriser's antialiasing at its edges. */
const NEAR = 6;
/** Dots of a colour that count as a swatch, at DOTS an inch. */
const LEAST_DOTS = 40;
const DOTS = 48;

/** Prints an open page as most people's browsers do: without background graphics. */
export async function print(report, page, { name, artefact }) {
  for (const format of FORMATS) {
    await report.check(`${name}: prints on at most ${MOST_SHEETS} sheets of ${format}`, async () => {
      const file = artefact(`print-${format}.pdf`);
      const pdf = await page.pdf({ format, printBackground: false, preferCSSPageSize: true });
      writeFileSync(file, pdf);
      const count = sheets(pdf);
      if (count === 0) return ["no page was found in the PDF"];
      return count > MOST_SHEETS ? [`${count} sheets`] : [];
    });
  }
  await report.check(`${name}: every heading is on the paper`, async () => {
    await page.emulateMedia({ media: "print" });
    const wanted = await page.evaluate(headings);
    await page.emulateMedia({ media: "screen" });
    const paper = plain(poppler("pdftotext", ["-raw", artefact("print-A4.pdf"), "-"]).toString("utf8"));
    if (wanted.length < 3) return [`only ${wanted.length} headings would be printed`];
    return wanted.filter((heading) => !paper.includes(plain(heading))).map((heading) => `not on paper: ${heading}`);
  });
  await report.check(`${name}: the colours of hair are printed without background graphics`, async () => {
    const wanted = await page.evaluate(stops);
    const picture = poppler("pdftoppm", ["-r", String(DOTS), "-f", "1", "-l", "1", artefact("print-A4.pdf")]);
    return wanted.filter((colour) => dotsOf(picture, colour) < LEAST_DOTS).map((colour) => `no swatch of ${colour} on paper`);
  });
}

/** A private page on A4: every heading and every line of text stands on the paper, and nothing runs off its edge. */
export async function privatePaper(report, page, name, artefact) {
  await report.check(`${name}: every word is on the paper`, async () => {
    const file = artefact("print-A4.pdf");
    writeFileSync(file, await page.pdf({ format: "A4", printBackground: false, preferCSSPageSize: true }));
    await page.emulateMedia({ media: "print" });
    const wanted = await page.evaluate(lines);
    await page.emulateMedia({ media: "screen" });
    const paper = plain(poppler("pdftotext", ["-raw", file, "-"]).toString("utf8"));
    if (wanted.length < 20) return [`only ${wanted.length} lines would be printed`];
    const missing = wanted.filter((line) => !paper.includes(plain(line)));
    return missing.slice(0, 5).map((line) => `not on paper: ${line} (${missing.length} in all)`);
  });
}

/** Runs in the page: every piece of text that stands on paper. */
function lines() {
  const all = [...document.querySelectorAll("h1, h2, h3, p, li, th, td")].filter((one) => one.checkVisibility());
  return all.filter((one) => !one.querySelector("p, li, table, svg")).map((one) => one.innerText.trim()).filter(Boolean);
}

/** Pages of a PDF as Chromium writes it: each page object stands uncompressed. */
export function sheets(pdf) {
  return (pdf.toString("latin1").match(/\/Type\s*\/Page(?![a-zA-Z])/g) ?? []).length;
}

/** Runs in the page: the headings that stand on paper. */
function headings() {
  return [...document.querySelectorAll("h1, h2")].filter((one) => one.checkVisibility()).map((one) => one.innerText);
}

/** Runs in the page: the hair as it is today, where the page shows any. */
function stops() {
  const fresh = document.querySelector(".head .hair path")?.getAttribute("fill");
  return fresh?.startsWith("#") ? [fresh] : [];
}

/** Letters only, as a line break may fall anywhere and a font may join letters. */
function plain(text) {
  return text.normalize("NFKD").replace(/[^\p{L}\p{N}]/gu, "").toLowerCase();
}

/** Dots of a colour in a picture of the PPM kind. */
function dotsOf(picture, hex) {
  const wanted = [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16));
  // Three numbers stand before the dots, each ended by one white-space octet: width, height, largest value.
  let at = 2;
  for (let numbers = 0; numbers < 3; numbers += 1) {
    while (picture[at] <= 32) at += 1;
    while (picture[at] > 32) at += 1;
  }
  let found = 0;
  for (at += 1; at + 2 < picture.length; at += 3) {
    if (wanted.every((value, channel) => Math.abs(picture[at + channel] - value) <= NEAR)) found += 1;
  }
  return found;
}

/** Runs one of poppler's programs. */
export function poppler(program, options) {
  try {
    return execFileSync(program, options, { maxBuffer: 64 * 1024 * 1024 });
  } catch (error) {
    if (error.code === "ENOENT") throw new Error(`${program} is missing: install Debian's package \`poppler-utils\``, { cause: error });
    throw error;
  }
}
