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
  await report.check(`${name}: "tonight" is said on its own night only, and a wash that has passed is not to come`, () =>
    opened(browser, address, {}, async ({ page }) => {
      const { done, first } = await page.locator("#today").evaluate((box) => ({ ...box.dataset }));
      const faults = [];
      const on = async (day) => {
        await page.clock.setFixedTime(new Date(Date.parse(day) + DAY / 2));
        await page.reload();
        return { said: await page.locator("main").innerText(), night: await page.locator(".night, #tonight").evaluateAll((all) => all.filter((one) => one.checkVisibility()).length) };
      };
      const after = (day, days) => new Date(Date.parse(day) + DAY * days).toISOString().slice(0, 10);
      const night = await on(done);
      if (night.night > 0 && !night.said.includes("Tonight,")) faults.push("its own night does not say so");
      if (night.said.includes("Next wash")) faults.push("the first wash is called the next on the first night");
      if (after(done, 1) < first) {
        const next = await on(after(done, 1));
        if (/tonight/i.test(next.said)) faults.push("the next day still says tonight");
        if (next.night !== night.night) faults.push("its advice is gone before the first wash");
      }
      const later = await on(after(first, 2));
      if (/tonight/i.test(later.said) || later.night > 0) faults.push("after the first wash something of tonight is left");
      const wash = page.locator(".step.wash");
      if (await wash.isVisible()) {
        const date = await wash.locator("time").getAttribute("datetime");
        if (date < after(first, 2)) faults.push(`the next wash is told for ${date}, which has passed`);
        if (/First wash/.test(await wash.innerText())) faults.push("a wash that has passed is called the first");
      }
      return faults;
    }),
  );
  await report.check(`${name}: a day that has passed is not told as one to come, and nothing jumps`, () =>
    opened(browser, address, {}, async ({ page, seen }) => {
      const large = page.locator(".booked, .back .day");
      const best = await large.locator("time").evaluateAll((all) => all[0]?.dateTime);
      if (!best) return [];
      const last = await page.locator(".back [data-last]").evaluateAll((all, best) => all[0]?.dataset.last ?? best, best);
      const named = (day) => new Intl.DateTimeFormat("en-GB", { weekday: "long", day: "numeric", month: "long", timeZone: "UTC" }).format(new Date(day)).replace(",", "");
      const faults = [];
      const on = async (day) => {
        const noon = new Date(Date.parse(day) + DAY / 2);
        await page.clock.setFixedTime(noon);
        await page.reload();
        const days = page.locator(".dates time, .first time:not(.done time)");
        const shown = await days.evaluateAll((all) => all.filter((one) => one.checkVisibility()).map((one) => one.dateTime));
        const passed = shown.filter((one) => one < noon.toISOString().slice(0, 10));
        if (passed.length > 0) faults.push(`on ${day} still to come: ${passed}`);
        const told = (await page.locator("#today li").allInnerTexts()).map((line) => line.replace(/^[^:]*: /, ""));
        if (new Set(told).size < told.length) faults.push(`on ${day} told twice: ${told.join(" | ")}`);
        const moved = await page.evaluate(() => new Promise((done) => {
          new PerformanceObserver((list) => done(list.getEntries().reduce((sum, { value }) => sum + value, 0))).observe({ type: "layout-shift", buffered: true });
          setTimeout(() => done(0), 300);
        }));
        if (moved > 0) faults.push(`on ${day} the page moves by ${moved}`);
        return large.innerText();
      };
      const after = (day) => new Date(Date.parse(day) + DAY).toISOString().slice(0, 10);
      if (!(await on(best)).includes(named(best))) faults.push("its own day is not told");
      if (last > best) {
        const told = await on(after(best));
        if (told !== `By ${named(last)}`) faults.push(`after the best day: "${told}"`);
      }
      const told = await on(after(last));
      if (told !== "Ask us for a new day") faults.push(`after the last day: "${told}"`);
      if (!new RegExp(`${named(best)}( \\d{4})? has passed`).test(await page.locator(".first").innerText())) faults.push("the day that has passed is not named");
      if ((await page.locator(".step .go:visible").count()) > 0) faults.push("a calendar of past days is offered");
      await page.screenshot({ path: artefact("passed.png") });
      return faults.concat(seen.complaints);
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
