// The page's one script: it marks today, tells the week and counts the next wash; it keeps nothing, and the page does without it.

import { opened } from "../browser.mjs";

const DAY = 86_400_000;

export async function today(report, browser, { name, address, artefact }) {
  const shown = await opened(browser, address, {}, async ({ page }) => page.locator("#today").count());
  if (shown === 0) return;
  await report.check(`${name}: today stands in its place, and the next wash is counted from the last`, () =>
    opened(browser, address, {}, async ({ page, seen }) => {
      const dates = await page.locator(".ribbon time").evaluateAll((all) => all.map((one) => one.dateTime));
      if (dates.length < 2) return [];
      // Half way through the second row.
      const now = new Date(Date.parse(dates[1]) + DAY * 2 + DAY / 2);
      await page.clock.setFixedTime(now);
      await page.reload();
      const faults = [];
      const marked = await page.locator(".ribbon li").evaluateAll((rows) => rows.map((row) => row.querySelectorAll(".here").length));
      if (marked.join("") !== marked.map((_, at) => (at === 1 ? 1 : 0)).join("")) faults.push(`today is marked in the rows ${marked}`);
      if (!(await page.locator("#today").isVisible())) faults.push("the section is not shown");
      if ((await page.locator("#today li").count()) < 1) faults.push("this week says nothing");
      const { every, first } = await page.locator("#today").evaluate((box) => ({ every: Number(box.dataset.every), first: box.dataset.first }));
      const washed = new Date(now.getTime() - DAY);
      await page.getByLabel(/.+/).and(page.locator("#washed")).fill(washed.toISOString().slice(0, 10));
      const next = new Date(Math.max(washed.getTime() + every * DAY, Date.parse(first), now.getTime()));
      // The browser's own way to write a date is the outside check of ours.
      const wanted = new Intl.DateTimeFormat("en-GB", { weekday: "long", day: "numeric", month: "long", timeZone: "UTC" }).format(next).replace(",", "");
      const told = await page.locator("#today output").innerText();
      if (!told.includes(wanted)) faults.push(`"${told}" does not name ${wanted}`);
      await page.screenshot({ path: artefact("today.png"), fullPage: true });
      if (seen.requests.length !== 2) faults.push(`${seen.requests.length} requests for two visits`);
      const kept = await page.evaluate(() => localStorage.length + sessionStorage.length + document.cookie.length);
      return kept > 0 ? faults.concat("something was stored") : faults.concat(seen.complaints);
    }),
  );
  await report.check(`${name}: long after its dates, and without script, nothing of today is shown`, () =>
    opened(browser, address, {}, async ({ page }) => {
      await page.clock.setFixedTime(new Date("2031-01-01T12:00:00Z"));
      await page.reload();
      const late = (await page.locator("#today").isVisible()) || (await page.locator(".here").count()) > 0;
      const silent = await opened(browser, address, { javaScriptEnabled: false }, ({ page: off }) => off.locator("#today").isVisible());
      return [...(late ? ["shown years later"] : []), ...(silent ? ["shown without script"] : [])];
    }),
  );
}
