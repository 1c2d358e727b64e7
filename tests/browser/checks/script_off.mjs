// Without script the page says the same, but for what only a reader's own clock can know.

import { opened } from "../browser.mjs";

const LEAST_SHARE = 0.95;

/** The choices of the what-if section. */
const CHOICE = "#what-if input[type=radio]";

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
  if ((await page.locator(CHOICE).count()) === 0) return;
  await report.check(`${name}: script off, each choice of washes shows its own outcome, by tap and by keyboard`, () =>
    opened(browser, address, { javaScriptEnabled: false }, ({ page: silent }) => choices(silent)));
}

/** Chooses one number of washes after another and looks at what is shown. */
async function choices(page) {
  const faults = [];
  const shown = async () => {
    const all = await page.locator("#what-if .outcome").all();
    const seen = await Promise.all(all.map(async (one) => ((await one.isVisible()) ? one.innerText() : null)));
    return seen.filter((text) => text !== null);
  };
  const outcomes = new Set();
  const count = await page.locator(CHOICE).count();
  for (let index = 0; index < count; index += 1) {
    // A tap where the number stands, as a thumb does it: whatever lies on top there gets it.
    const label = page.locator("#what-if label").nth(index);
    await label.scrollIntoViewIfNeeded();
    const box = await label.boundingBox();
    await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2);
    const texts = await shown();
    if (texts.length !== 1) faults.push(`choice ${index + 1} shows ${texts.length} outcomes`);
    outcomes.add(texts.join());
  }
  if (outcomes.size !== count) faults.push(`${count} choices have ${outcomes.size} different outcomes`);
  const before = (await shown()).join();
  await page.keyboard.press("ArrowLeft");
  if ((await shown()).join() === before) faults.push("an arrow key changes nothing");
  return faults;
}

/** Runs in the page: what a person can read and press. */
function read() {
  document.querySelectorAll("#today, .here").forEach((one) => one.remove());
  const visible = (selector) => [...document.querySelectorAll(selector)].filter((element) => element.checkVisibility());
  return {
    words: document.body.innerText.split(/\s+/).filter(Boolean),
    headings: visible("h1, h2, h3").map((element) => element.innerText.trim()),
    // The choices of washes work without script, which a check of their own proves.
    buttons: visible("button, input, select").filter((one) => !one.closest("#what-if")).length,
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
