// The ways a page is looked at: dark, forced colours, reduced motion, browser zoom, keyboard, and print in black on white.

import { opened, WIDTHS } from "../browser.mjs";
import { cutOff } from "./layout.mjs";

/** WCAG 2.2 SC 1.4.11 and 2.4.7: a change this strong is seen. */
const LEAST_CONTRAST = 3;
/** SC 1.4.3, for text on paper. */
const LEAST_TEXT_CONTRAST = 4.5;
const DARK_LUMINANCE = 0.2;

export async function modes(report, browser, { name, address, artefact }) {
  await report.check(`${name}: a dark scheme that is dark`, () =>
    opened(browser, address, { colorScheme: "dark" }, async ({ page }) => {
      const paper = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
      const found = luminance(channels(paper));
      return found < DARK_LUMINANCE ? [] : [`paper ${paper} has luminance ${found.toFixed(2)}`];
    }),
  );
  await report.check(`${name}: forced colours keep the hair's own and every word`, () =>
    opened(browser, address, { forcedColors: "active" }, async ({ page }) => {
      await page.screenshot({ path: artefact("forced-colours.png") });
      const kept = await page.evaluate(() => {
        const hair = [...document.querySelectorAll(".hair")].filter((one) => one.checkVisibility());
        return hair.filter((one) => getComputedStyle(one).forcedColorAdjust !== "none").map((one) => `recoloured: ${one.getAttribute("aria-label")}`);
      });
      const lost = await page.evaluate(() =>
        [...document.querySelectorAll("h1, h2, h3, p, li, a")]
          .filter((one) => one.checkVisibility() && getComputedStyle(one).color === getComputedStyle(document.body).backgroundColor)
          .map((one) => `ink on its own colour: ${one.textContent.slice(0, 40)}`),
      );
      const inForce = await page.evaluate(() => matchMedia("(forced-colors: active)").matches);
      return [...kept, ...lost, ...(inForce ? [] : ["forced colours are not in force"])];
    }),
  );
  await report.check(`${name}: nothing moves when motion is reduced`, () =>
    opened(browser, address, { reducedMotion: "reduce" }, ({ page }) =>
      page.evaluate(() => {
        const faults = document.getAnimations().map((one) => `an animation: ${one.effect?.target?.tagName}`);
        for (const one of document.querySelectorAll("*")) {
          const style = getComputedStyle(one);
          if (style.transitionDuration.split(",").some((time) => parseFloat(time) > 0.01)) faults.push(`a transition on ${one.tagName}`);
          if (style.scrollBehavior === "smooth") faults.push(`smooth scrolling on ${one.tagName}`);
        }
        return faults;
      }),
    ),
  );
  await report.check(`${name}: browser zoom of 200 % on a desk`, () =>
    opened(browser, address, { viewport: { width: 640, height: 450 }, deviceScaleFactor: 2 }, ({ page }) => page.evaluate(cutOff)),
  );
  await report.check(`${name}: the keyboard reaches every control, in order, each in view with a ring that is seen`, () =>
    opened(browser, address, {}, ({ page }) => keyboard(page)),
  );
  await report.check(`${name}: every word on paper has contrast ${LEAST_TEXT_CONTRAST}`, () =>
    opened(browser, address, { viewport: WIDTHS.desk }, async ({ page }) => {
      await page.emulateMedia({ media: "print" });
      const inks = await page.evaluate(() => [
        ...new Set([...document.querySelectorAll("h1, h2, h3, p, li, a, time, summary")].filter((one) => one.checkVisibility()).map((one) => getComputedStyle(one).color)),
      ]);
      // Browsers print no backgrounds: the paper is white.
      return inks.filter((ink) => contrast(channels(ink), [255, 255, 255]) < LEAST_TEXT_CONTRAST).map((ink) => `${ink} on white`);
    }),
  );
}

/** Tabs through the page. */
async function keyboard(page) {
  const faults = [];
  const wanted = await page.evaluate(() => {
    const all = [...document.querySelectorAll("a[href], summary, input, button, select, [tabindex]")].filter((one) => one.checkVisibility());
    all.forEach((one, at) => (one.dataset.at = String(at)));
    if (all.some((one) => one.tabIndex > 0)) return -1;
    // Of the choices of one name the keyboard reaches one; the arrow keys go on from there.
    return all.filter((one) => one.type !== "radio" || one.checked).length;
  });
  if (wanted < 0) return ["a control has a tabindex of its own"];
  const reached = new Set();
  let last = -1;
  for (let press = 0; press < wanted * 4; press += 1) {
    await page.keyboard.press("Tab");
    const here = await page.evaluate(() => {
      const one = document.activeElement;
      if (!one?.dataset.at) return null;
      const ring = one.type === "radio" ? one.nextElementSibling : one;
      const box = ring.getBoundingClientRect();
      const top = document.elementFromPoint(box.left + box.width / 2, box.top + Math.min(box.height / 2, 12));
      const style = getComputedStyle(ring);
      return {
        at: Number(one.dataset.at),
        what: (one.textContent || one.id).trim().slice(0, 40),
        hidden: !(top && (ring.contains(top) || top.contains(ring))),
        ring: style.outlineStyle === "none" ? 0 : parseFloat(style.outlineWidth),
        colour: style.outlineColor,
        paper: getComputedStyle(document.body).backgroundColor,
        native: one.type === "date",
      };
    });
    if (here === null) break;
    if (!reached.has(here.at)) {
      if (here.at < last) faults.push(`out of order: ${here.what}`);
      if (here.hidden) faults.push(`covered: ${here.what}`);
      if (here.ring < 2) faults.push(`no ring of 2 px: ${here.what}`);
      else if (contrast(channels(here.colour), channels(here.paper)) < LEAST_CONTRAST) faults.push(`a ring of ${here.colour} on ${here.paper}`);
    }
    reached.add(here.at);
    last = here.at;
  }
  if (reached.size < wanted) faults.push(`${reached.size} of ${wanted} controls are reached`);
  return faults;
}

function channels(colour) {
  return colour.match(/[\d.]+/g).slice(0, 3).map(Number);
}

/** Relative luminance as WCAG 2.2 defines it. */
function luminance(colour) {
  const [r, g, b] = colour.map((value) => value / 255).map((value) => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(one, other) {
  const [high, low] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (high + 0.05) / (low + 0.05);
}
