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

/** Makes every pair of choices and looks at what is shown. */
export async function choices(page) {
  const faults = [];
  const shown = () =>
    page.locator("#what-if .outcome").evaluateAll((all) => all.filter((one) => one.checkVisibility()).map((one) => `${one.className}: ${one.innerText}`));
  const labels = (name) => page.locator(`#what-if input[name=${name}] + label`);
  const [washes, conditioner] = [await labels("washes").count(), await labels("conditioner").count()];
  const outcomes = new Set();
  for (let second = 0; second < Math.max(conditioner, 1); second += 1) {
    if (conditioner > 0) await tap(page, labels("conditioner").nth(second));
    const words = new Set();
    for (let first = 0; first < washes; first += 1) {
      await tap(page, labels("washes").nth(first));
      const seen = await shown();
      if (seen.length !== 1) faults.push(`choice ${first + 1}, ${second + 1} shows ${seen.length} outcomes`);
      outcomes.add(seen.join());
      words.add(seen.join().replace(/^[^:]*:/, ""));
    }
    if (words.size !== washes) faults.push(`${washes} numbers of washes have ${words.size} different outcomes`);
  }
  const pairs = washes * Math.max(conditioner, 1);
  if (outcomes.size !== pairs) faults.push(`${pairs} pairs of choices have ${outcomes.size} outcomes`);
  const before = (await shown()).join();
  await page.keyboard.press("ArrowLeft");
  if ((await shown()).join() === before) faults.push("an arrow key changes nothing");
  return faults;
}

/** A tap where a label stands, as a thumb does it: whatever lies on top there gets it. */
async function tap(page, label) {
  await label.scrollIntoViewIfNeeded();
  const box = await label.boundingBox();
  await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2);
}

/** Runs in the page: what a person can read and press. */
function read() {
  document.querySelectorAll("#today, .here").forEach((one) => one.remove());
  const visible = (selector) => [...document.querySelectorAll(selector)].filter((element) => element.checkVisibility());
  return {
    words: document.body.innerText.split(/\s+/).filter(Boolean),
    // Tonight's heading says something else on a later day, which a check of its own looks at.
    headings: visible("h1, h2, h3").filter((element) => !element.closest("#tonight")).map((element) => element.innerText.trim()),
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
