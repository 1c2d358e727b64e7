// The calendar files: a parser of another house reads them, and they say nothing about the client.

import { readFileSync } from "node:fs";
import { join } from "node:path";
import ICAL from "ical.js";

export async function calendars(report, site) {
  await report.check("calendar: pages have calendar files beside them", () =>
    site.calendars.length >= 6 ? [] : [`only ${site.calendars.length} calendar files`],
  );
  await report.check("calendar: each file lies beside a page that links to it", () =>
    site.calendars.flatMap((path) => {
      const pagePath = path.replace(/(-washing)?\.ics$/, ".html");
      if (!site.pages.includes(pagePath)) return [`${path}: no page beside it`];
      const page = readFileSync(join(site.publicFolder, pagePath), "utf8");
      return page.includes(`href="${path.split("/").pop()}"`) ? [] : [`${pagePath}: does not link to it`];
    }),
  );
  for (const path of site.calendars) {
    await report.check(`calendar ${short(path)}: one whole-day event, well formed`, () => oneEvent(path, site));
  }
  const washing = site.calendars.filter((path) => path.endsWith("-washing.ics"));
  await report.check("calendar: most pages have wash days", () => (washing.length >= 6 ? [] : [`only ${washing.length}`]));
  for (const path of washing) {
    await report.check(`calendar ${short(path)}: the wash days are those of the page, and they end before the visit`, () => washDays(path, site));
  }
}

/** Expands the rule: the first days are those the page lists, each as far from the last as the rule says, and they end. */
function washDays(path, site) {
  const text = readFileSync(join(site.publicFolder, path), "utf8");
  const event = new ICAL.Event(new ICAL.Component(ICAL.parse(text)).getFirstSubcomponent("vevent"));
  if (!event.isRecurring()) return ["it does not come again"];
  const days = [];
  const iterator = event.iterator();
  for (let day = iterator.next(); day && days.length < 400; day = iterator.next()) days.push(day.toString());
  if (days.length === 0 || days.length === 400) return [`${days.length} days`];
  const page = readFileSync(join(site.publicFolder, path.replace("-washing.ics", ".html")), "utf8");
  const section = page.split('id="washing"')[1].split("</section>")[0];
  const listed = [...section.matchAll(/<time datetime="([\d-]+)"/g)].map(([, day]) => day);
  const shared = listed.slice(0, days.length);
  const faults = shared.join() === days.slice(0, listed.length).join() ? [] : [`page ${shared}, calendar ${days.slice(0, listed.length)}`];
  const window = path.replace("-washing.ics", ".ics");
  if (site.calendars.includes(window)) {
    const visit = /DTSTART;VALUE=DATE:(\d{4})(\d\d)(\d\d)/.exec(readFileSync(join(site.publicFolder, window), "utf8")).slice(1).join("-");
    if (days.at(-1) >= visit) faults.push(`a wash on ${days.at(-1)}, the visit is on ${visit}`);
  }
  return faults;
}

function oneEvent(path, site) {
  const bytes = readFileSync(join(site.publicFolder, path));
  const text = bytes.toString("utf8");
  const faults = [];
  if (/[^\r]\n/.test(text) || !text.endsWith("\r\n")) faults.push("a line does not end in CRLF");
  const long = text.split("\r\n").filter((line) => Buffer.byteLength(line) > 75);
  if (long.length > 0) faults.push(`a line is longer than 75 octets: ${long[0]}`);
  const calendar = new ICAL.Component(ICAL.parse(text));
  const events = calendar.getAllSubcomponents("vevent");
  if (events.length !== 1) return faults.concat(`${events.length} events`);
  const event = new ICAL.Event(events[0]);
  if (!event.startDate.isDate) faults.push("the event is no whole day");
  if (!event.uid || event.uid.includes("@")) faults.push(`uid "${event.uid}"`);
  if (!/\p{L}{3}/u.test(event.summary ?? "")) faults.push("no summary");
  if (!/^\d{8}T\d{6}Z$/m.test(events[0].getFirstProperty("dtstamp").toICALString().replace("DTSTAMP:", ""))) faults.push("DTSTAMP is not UTC");
  for (const name of ["method"]) if (calendar.getFirstProperty(name)) faults.push(`has ${name}`);
  for (const name of ["attendee", "organizer"]) if (events[0].getFirstProperty(name)) faults.push(`has ${name}`);
  if (text.includes(site.baseAddress) || text.includes(path.split("/").pop().replace(/(-washing)?\.ics/, ""))) faults.push("carries the page's address");
  for (const { code, firstName } of site.clients) {
    if (text.includes(code) || (firstName && new RegExp(`\\b${firstName}\\b`).test(text))) faults.push(`names ${code}`);
  }
  return faults;
}

const short = (path) => path.split("/").slice(-1)[0].slice(0, 8) + (path.includes("-washing") ? " washing" : "");
