// On paper: at most two A4 pages.

import { writeFileSync } from "node:fs";

const MOST_PAGES = 2;

export async function print(report, page, { name, artefact }) {
  await report.check(`${name}: prints on at most ${MOST_PAGES} A4 pages`, async () => {
    const pdf = await page.pdf({ format: "A4", printBackground: false, preferCSSPageSize: true });
    writeFileSync(artefact("print.pdf"), pdf);
    const pages = sheets(pdf);
    if (pages === 0) return ["no page was found in the PDF"];
    return pages > MOST_PAGES ? [`${pages} pages`] : [];
  });
}

/** Pages of a PDF as Chromium writes it: each page object stands uncompressed. */
export function sheets(pdf) {
  return (pdf.toString("latin1").match(/\/Type\s*\/Page(?![a-zA-Z])/g) ?? []).length;
}
