// The page in a language read from the right that nobody speaks: every Latin letter a Hebrew one, the direction turned.
// The sources' own tests prove that no word stands in a template; here the layout is looked at.

import { opened, WIDTHS } from "../browser.mjs";
import { cutOff } from "./layout.mjs";

export async function rightToLeft(report, browser, { name, address, artefact }) {
  for (const [place, viewport] of Object.entries({ narrowest: { width: 320, height: 844 }, ...WIDTHS })) {
    await report.check(`${name}: read from the right, nothing cut off and the hair on the right, ${place}`, () =>
      opened(browser, address, { viewport }, async ({ page }) => {
        await page.evaluate(mirror);
        const faults = await page.evaluate(cutOff);
        await page.screenshot({ path: artefact(`right-to-left-${place}.png`), fullPage: true });
        return faults.concat(await page.evaluate(sides));
      }),
    );
  }
}

/** Runs in the page. */
function mirror() {
  document.documentElement.dir = "rtl";
  document.documentElement.lang = "he";
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let text = walk.nextNode(); text; text = walk.nextNode()) {
    if (text.parentElement.closest("script, [dir=ltr]")) continue;
    text.data = text.data.replace(/[a-z]/gi, (letter) => String.fromCharCode(0x5d0 + letter.toLowerCase().charCodeAt(0) - 97));
  }
}

/** Runs in the page: what stands at the start of a line stands on the right. */
function sides() {
  const faults = [];
  const first = (selector) => document.querySelector(selector)?.getBoundingClientRect();
  const [hair, label] = [first(".step .hair"), first(".step .label")];
  if (hair && label && hair.left < label.right - 1 && hair.width < innerWidth / 2) faults.push("the strand stands left of its words");
  const rows = [...document.querySelectorAll(".ribbon li")].map((row) => row.getBoundingClientRect());
  const along = rows.length > 1 && Math.abs(rows[0].top - rows[1].top) < 1;
  if (along && rows[0].left < rows[1].left) faults.push("the ribbon runs from the left");
  const align = getComputedStyle(document.querySelector("h2")).direction;
  return align === "rtl" ? faults : faults.concat("the direction does not reach the headings");
}
