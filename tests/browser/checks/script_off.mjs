// Without script the page says the same.

import { opened } from "../browser.mjs";

const LEAST_SHARE = 0.95;

export async function scriptOff(report, browser, { name, address, artefact }) {
  await report.check(`${name}: script off, the same words`, async () => {
    const read = (page) =>
      page.evaluate(() => ({
        words: document.body.innerText.split(/\s+/).filter(Boolean),
        headings: [...document.querySelectorAll("h1, h2, h3")].filter((e) => e.checkVisibility()).map((e) => e.innerText.trim()),
        buttons: [...document.querySelectorAll("button, input, select")].filter((e) => e.checkVisibility()).length,
      }));
    const on = await opened(browser, address, {}, read);
    const off = await opened(browser, address, { javaScriptEnabled: false }, async (page) => {
      await page.screenshot({ path: artefact("script-off.png"), fullPage: true });
      return read(page);
    });
    const faults = [];
    const share = covered(on.words, off.words);
    if (on.words.length < 60) faults.push(`the page has only ${on.words.length} words`);
    if (share < LEAST_SHARE) faults.push(`only ${(share * 100).toFixed(1)} % of the words are there without script`);
    faults.push(...on.headings.filter((heading) => !off.headings.includes(heading)).map((h) => `heading gone: ${h}`));
    if (off.buttons > 0) faults.push(`${off.buttons} controls do nothing without script`);
    return faults;
  });
}

/** The share of the first text's words that the second has too, each counted as often as it stands. */
function covered(words, others) {
  const left = new Map();
  for (const word of others) left.set(word, (left.get(word) ?? 0) + 1);
  const found = words.filter((word) => {
    const count = left.get(word) ?? 0;
    left.set(word, count - 1);
    return count > 0;
  });
  return words.length === 0 ? 0 : found.length / words.length;
}
