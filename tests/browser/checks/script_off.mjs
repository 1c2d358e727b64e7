// Without script the page says the same.

import { opened } from "../browser.mjs";

const LEAST_SHARE = 0.95;

/** Compares an open page with the same page without script. */
export async function scriptOff(report, browser, page, { name, address }) {
  await report.check(`${name}: script off, the same words`, async () => {
    const on = await page.evaluate(read);
    const off = await opened(browser, address, { javaScriptEnabled: false }, ({ page: silent }) => silent.evaluate(read));
    const faults = [];
    const share = covered(on.words, off.words);
    if (on.words.length < 60) faults.push(`the page has only ${on.words.length} words`);
    if (share < LEAST_SHARE) faults.push(`only ${(share * 100).toFixed(1)} % of the words are there without script`);
    faults.push(...on.headings.filter((heading) => !off.headings.includes(heading)).map((h) => `heading gone: ${h}`));
    if (off.buttons > 0) faults.push(`${off.buttons} controls do nothing without script`);
    return faults;
  });
}

/** Runs in the page: what a person can read and press. */
function read() {
  const visible = (selector) => [...document.querySelectorAll(selector)].filter((element) => element.checkVisibility());
  return {
    words: document.body.innerText.split(/\s+/).filter(Boolean),
    headings: visible("h1, h2, h3").map((element) => element.innerText.trim()),
    buttons: visible("button, input, select").length,
  };
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
