// Improves the form: keeps every change at once and shows what it leads to. Every page works without.
"use strict";
(() => {
  const form = document.getElementById("visit");
  if (!form) return;
  const kept = document.getElementById("kept");
  const seen = document.getElementById("count");
  let timer = 0, busy = false, again = false, leaving = false;

  const say = (text) => { if (kept.textContent !== text) kept.textContent = text; };
  const later = (wait) => { clearTimeout(timer); say("…"); timer = setTimeout(send, wait); };

  async function send() {
    if (leaving) return;
    if (busy) { again = true; return; }
    busy = true;
    try {
      const body = new URLSearchParams(new FormData(form));
      const answer = await fetch(form.getAttribute("action") + "/change", { method: "POST", body });
      if (!answer.ok) throw new Error(String(answer.status));
      swap(new DOMParser().parseFromString(await answer.text(), "text/html").body);
      say("Kept");
    } catch {
      say("Not kept: no answer. What you typed stays here; it is tried again.");
      timer = setTimeout(send, 3000);
    } finally {
      busy = false;
      if (again) { again = false; later(0); }
    }
  }

  function swap(told) {
    if (told.dataset.id && !form.getAttribute("action").endsWith(told.dataset.id)) {
      form.setAttribute("action", "/visit/" + told.dataset.id);
      history.replaceState(null, "", "/visit/" + told.dataset.id);
    }
    seen.value = told.dataset.seen;
    if (told.dataset.apart === "true") document.getElementById("faults").textContent = "Another tablet changed this draft too. This is now a draft of its own; the other is under Begun.";
    for (const part of told.querySelectorAll("[id]")) {
      const here = document.getElementById(part.id);
      if (!here || part.parentElement !== told || here.innerHTML === part.innerHTML) continue;
      if (here.contains(document.activeElement)) { keepFocus(here, part); continue; }
      here.innerHTML = part.innerHTML;
    }
  }

  // A row of swatches under the finger is renewed without losing the place.
  function keepFocus(here, part) {
    const at = document.activeElement;
    const open = at.closest("details")?.open;
    here.innerHTML = part.innerHTML;
    if (open) here.querySelector("details")?.setAttribute("open", "");
    const same = at.name ? [...here.querySelectorAll("input")].find((one) => one.name === at.name && one.value === at.value) : here.querySelector("summary");
    (same ?? here.querySelector("input"))?.focus({ preventScroll: true });
  }

  form.addEventListener("input", () => later(60));
  form.addEventListener("change", () => later(0));
  form.addEventListener("click", (event) => {
    const button = event.target.closest("button[data-of]");
    if (!button) return;
    event.preventDefault();
    const field = document.getElementById(button.dataset.of);
    if (button.dataset.set !== undefined) field.value = button.dataset.set;
    else {
      const now = Number(field.value.trim() || 0);
      if (Number.isNaN(now)) return;
      field.value = String(Math.max(0, Math.round((now + Number(button.dataset.by)) * 100) / 100));
    }
    marks();
    later(0);
  });
  // Enter in a field looks; it never finishes or takes a row away.
  form.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && event.target.matches("input")) { event.preventDefault(); later(0); }
  });
  form.addEventListener("submit", () => { leaving = true; clearTimeout(timer); });
  addEventListener("pageshow", () => { leaving = false; });

  function marks() {
    for (const tap of form.querySelectorAll("button[data-set]")) {
      tap.setAttribute("aria-pressed", String(document.getElementById(tap.dataset.of).value === tap.dataset.set));
    }
  }
  form.addEventListener("input", marks);
})();
