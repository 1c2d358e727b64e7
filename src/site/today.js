// Marks today in the ribbon, tells this week, and counts the next wash from the last one entered. Keeps nothing.
(() => {
const one = (what, from = document) => from.querySelector(what), all = (what) => [...document.querySelectorAll(what)];
const box = one("#today"), say = box.dataset, DAY = 864e5;
const dayOf = (text) => Date.parse(text) / DAY, list = (text) => text.split("|");
const clock = new Date(), now = Date.UTC(clock.getFullYear(), clock.getMonth(), clock.getDate()) / DAY;
const written = (day) => {
const date = new Date(day * DAY);
return say.date.replace("{weekday}", list(say.days)[(date.getUTCDay() + 6) % 7]).replace("{day}", date.getUTCDate()).replace("{month}", list(say.months)[date.getUTCMonth()]);
};
const rows = all(".ribbon li"), days = rows.map((row) => dayOf(one("time", row).dateTime));
const at = days.filter((day) => day <= now).length - 1, stride = days[1] - days[0];
const ahead = (day) => day >= now && day < now + 7;
if (rows.length < 2 || at < 0 || now >= days.at(-1) + stride) return;
const mark = document.createElement("span");
mark.className = "here";
mark.textContent = say.here;
mark.style.setProperty("--at", (now - days[at]) / stride * 100 + "%");
rows[at].append(mark);
const read = (row, how) => how.replace("{date}", one("time", row).textContent).replace("{words}", [...row.querySelectorAll(".words p:not([class])")].map((line) => line.textContent).join("; "));
const told = [read(rows[at], say.now)];
if (rows[at + 1] && ahead(days[at + 1] - 1)) told.push(read(rows[at + 1], say.by));
told.push(...all(".step").filter((step) => one("time", step) && one(".label", step) && ahead(dayOf(one("time", step).dateTime))).map((step) => one(".label", step).textContent + ": " + one("time", step).textContent));
for (const text of [...told, ...all("[data-on]").filter((line) => ahead(dayOf(line.dataset.on))).map((line) => line.textContent)]) one("ul", box).appendChild(document.createElement("li")).textContent = text;
one("input", box).oninput = (event) => {
const washed = dayOf(event.target.value);
one("output", box).textContent = washed <= now ? say.next.replace("{date}", written(Math.max(washed + +say.every, dayOf(say.first), now))) : "";
};
box.hidden = false;
})();
