// Never colour alone: every swatch has a name for those who hear the page and words beside it for those who see it.

import { opened } from "../browser.mjs";

/** What counts as a swatch: a mark that stands for a colour of hair. */
export const SWATCH = "[data-swatch], .swatch";

export async function swatches(report, browser, { name, address }) {
  await report.check(`${name}: each swatch has words`, () =>
    opened(browser, address, {}, (page) =>
      page.evaluate((selector) => {
        const colourWords = (element) => (element?.textContent ?? "").replace(/\s+/g, " ").trim();
        const nameOf = (e) => e.getAttribute("aria-label") ?? e.querySelector("title")?.textContent ?? e.getAttribute("title") ?? "";
        const found = [...document.querySelectorAll(selector)];
        return found.flatMap((swatch) => {
          const hidden = swatch.closest("[aria-hidden=true]");
          const beside = swatch.closest("li, tr, dd, dt, figure, p, section, div:not([data-swatch]):not(.swatch)");
          const copy = beside?.cloneNode(true);
          copy?.querySelectorAll("svg, [aria-hidden=true]").forEach((e) => e.remove());
          const faults = [];
          if (!hidden && nameOf(swatch).trim().length < 3) faults.push(`no name: ${swatch.outerHTML.slice(0, 120)}`);
          if (!/\p{L}{3}/u.test(colourWords(copy))) faults.push(`no words beside: ${swatch.outerHTML.slice(0, 120)}`);
          return faults;
        });
      }, SWATCH),
    ),
  );
}

/** How many swatches a page shows. */
export function swatchCount(browser, address) {
  return opened(browser, address, {}, (page) => page.locator(SWATCH).count());
}
