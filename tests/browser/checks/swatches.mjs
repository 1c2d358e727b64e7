// Never colour alone: every swatch has a name for those who hear the page and words beside it for those who see it.

/** What counts as a swatch: a mark that stands for the colour of hair. */
export const SWATCH = "svg.hair";

/** What holds a swatch and the words that belong to it. */
const TOGETHER = "li, .step, figure, .card, .outcome";

export async function swatches(report, page, name) {
  await report.check(`${name}: each swatch has words`, () => page.evaluate(wordless, { swatch: SWATCH, together: TOGETHER }));
}

/** Runs in the page: swatches without a name or without words beside them. */
function wordless({ swatch, together }) {
  const faults = [];
  for (const mark of document.querySelectorAll(swatch)) {
    const hidden = mark.closest("[aria-hidden=true]");
    const name = mark.getAttribute("aria-label") ?? mark.querySelector("title")?.textContent ?? "";
    if (!hidden && name.trim().length < 3) faults.push(`no name: ${mark.outerHTML.slice(0, 120)}`);
    const beside = mark.closest(together);
    if (!/\p{L}{3}/u.test(beside?.innerText ?? "")) faults.push(`no words beside: ${mark.outerHTML.slice(0, 120)}`);
  }
  return faults;
}
