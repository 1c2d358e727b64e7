// Marks today in the ribbon, tells this week, counts the next wash from the last one entered, and takes back what a past day said. Keeps nothing.
(() => {
const all = (what, from = document) => [...from.querySelectorAll(what)], one = (what, from) => all(what, from)[0];
one("main").classList.remove("waits");
const box = one("#today"), say = box.dataset, days = (text) => Date.parse(text) / 864e5;
const clock = new Date(), now = days(new Date(clock - clock.getTimezoneOffset() * 6e4).toISOString().slice(0, 10));
const first = days(say.first), every = +say.every, day = (time) => days(time.dateTime);
const ahead = (day) => day >= now && day < now + 7;
const wash = (day) => {
const time = one(".wash time"), date = new Date(day * 864e5), part = (name, how) => date.toLocaleDateString(document.documentElement.lang, { [name]: how, timeZone: "UTC" });
one(".wash .label").textContent = say.wash;
time.dateTime = date.toISOString().slice(0, 10);
return time.textContent = say.date.replace("{weekday}", part("weekday", "long")).replace("{day}", date.getUTCDate()).replace("{month}", part("month", "long"));
};
// Tonight's advice holds until the first wash, but tonight is one night only.
if (now > days(say.done)) for (const label of all(".night .label, #tonight h2")) if (now < first) label.textContent = say.until; else label.closest("section, .step").hidden = true;
// A wash that would come after the visit is not counted: the visit begins anew.
const next = first + Math.max(0, Math.ceil((now - first) / every)) * every, visit = one(".booked time, .back time");
if (visit && now <= day(visit) && day(visit) <= next) one(".wash").hidden = true; else if (now > first) wash(next);
const rows = all(".ribbon li"), dates = rows.map((row) => day(one("time", row))), stride = dates[1] - dates[0];
const at = dates.filter((day) => day <= now).length - 1;
if (rows.length < 2 || at < 0 || now >= dates.at(-1) + stride) return;
rows[at].insertAdjacentHTML("beforeend", "<span class=here></span>");
const mark = one(".here");
mark.textContent = say.here;
mark.style.setProperty("--at", (now - dates[at]) / stride * 100 + "%");
const read = (row, how) => how.replace("{date}", one("time", row).textContent).replace("{words}", all(".words p:not([class])", row).map((line) => line.textContent).join("; "));
const told = [read(rows[at], say.now)];
if (ahead(dates[at + 1] - 1)) told.push(read(rows[at + 1], say.by));
for (const time of all(".day time")) if (ahead(day(time))) told.push(time.closest(".booked")?.textContent ?? one(".label", time.closest(".step")).textContent + ": " + time.textContent);
for (const line of all("[data-on]")) if (ahead(days(line.dataset.on))) told.push(line.textContent);
for (const text of told) one("ul", box).appendChild(document.createElement("li")).textContent = text;
one("input", box).oninput = (event) => {
const washed = days(event.target.value);
one("output", box).textContent = washed <= now ? say.next.replace("{date}", wash(Math.max(washed + every, first, now))) : "";
};
box.hidden = false;
})();
