// Marks today in the ribbon, tells this week, counts the next wash from the last one entered, and takes back what a past day said. Keeps nothing.
(() => {
const all = (what, from = document) => [...from.querySelectorAll(what)], one = (what, from) => all(what, from)[0];
one("main").classList.remove("waits");
const box = one("#today"), say = box.dataset, days = (text) => Date.parse(text) / 864e5, day = (time) => days(time.dateTime);
const now = Math.floor((Date.now() / 6e4 - new Date().getTimezoneOffset()) / 1440), first = days(say.first), every = +say.every;
const ahead = (day) => day >= now && day < now + 7, fill = (how, date, words) => how.replace("{date}", date).replace("{words}", words);
const write = (time, day) => {
const date = new Date(day * 864e5), part = (name) => date.toLocaleDateString(one("html").lang, { [name]: "long", timeZone: "UTC" });
time.dateTime = date.toISOString().slice(0, 10);
return time.textContent = say.date.replace("{weekday}", part("weekday")).replace("{day}", date.getUTCDate()).replace("{month}", part("month"));
};
const wash = (day) => {
one(".wash .label").textContent = say.wash;
return write(one(".wash time"), day);
};
// Tonight's advice holds until the first wash, but tonight is one night only.
if (now > days(say.done)) for (const label of all(".night .label, #tonight h2")) if (now < first) label.textContent = say.until; else label.closest("section, .step").hidden = true;
// A best day that has passed leaves the last day; when that has passed too, or the booked one, the visit is asked for anew.
const visit = one(".booked time, .back time"), around = one(".back span, .booked+*");
if (visit && now > day(visit)) {
const large = visit.parentNode, last = days(around.dataset.last ?? visit.dateTime);
if (now > last) {
around.textContent = fill(say.past, visit.textContent);
large.textContent = say.again;
for (const link of all(".step .go, .dates+* .go")) link.remove();
} else {
write(visit, last);
large.innerHTML = fill(say.last, visit.outerHTML);
}
}
for (const line of all(".dates li, .back span+span")) line.hidden = now > day(one("time", line));
// A wash that would come after the visit is not counted: the visit begins anew.
const next = first + Math.max(0, Math.ceil((now - first) / every)) * every;
if (visit && now <= day(visit) && day(visit) <= next) one(".wash").hidden = true; else if (now > first) wash(next);
const rows = all(".ribbon li"), dates = rows.map((row) => day(one("time", row))), stride = dates[1] - dates[0];
const at = dates.filter((day) => day <= now).length - 1;
if (rows.length < 2 || at < 0 || now >= dates.at(-1) + stride) return;
const mark = rows[at].appendChild(document.createElement("span"));
mark.textContent = say.here;
mark.className = "here";
mark.style = "--at:" + (now - dates[at]) / stride * 100 + "%";
const tell = (text) => one("ul", box).appendChild(document.createElement("li")).textContent = text;
// What was so for more than a week says little beside what comes; what stays as it is is told once.
const soon = ahead(dates[at + 1] - 1), told = [];
const look = (row, how) => {
const fresh = all(".words p:not([class])", row).map((line) => line.textContent).filter((line) => !told.includes(line));
if (fresh[0]) tell(fill(how, one("time", row).textContent, fresh.join("; ")));
told.push(...fresh);
};
if (!soon || now < dates[at] + 7) look(rows[at], say.now);
if (soon) look(rows[at + 1], say.by);
for (const time of all(".day time")) if (ahead(day(time))) tell(all(".label, .day", time.closest(".step")).map((line) => line.textContent).join(": "));
for (const line of all("[data-on]")) if (ahead(days(line.dataset.on))) tell(line.textContent);
one("input", box).oninput = (event) => {
const washed = days(event.target.value);
one("output", box).textContent = washed <= now ? fill(say.next, wash(Math.max(washed + every, first, now))) : "";
};
box.hidden = false;
})();
