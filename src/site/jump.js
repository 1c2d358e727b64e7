// A jump inside a sealed page would put its own mark in the key's place.
addEventListener("click", (event) => {
const link = event.target.closest("a[href^='#']"), aim = link && document.getElementById(link.hash.slice(1));
if (!aim) return;
event.preventDefault();
aim.tabIndex = -1;
aim.focus({ preventScroll: true });
aim.scrollIntoView();
});
