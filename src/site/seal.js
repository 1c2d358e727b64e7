// Opens a sealed page with the key behind the # of its address. Asks for nothing, keeps nothing.
(async () => {
const lock = document.querySelector("main"), SIGNS = "abcdefghijklmnopqrstuvwxyz234567";
const bytes = (text) => Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0));
const given = location.hash.slice(1).toLowerCase();
const bits = [...given].map((sign) => SIGNS.indexOf(sign).toString(2).padStart(5, "0")).join("");
addEventListener("hashchange", () => location.reload());
try {
const raw = Uint8Array.from({ length: 16 }, (_, at) => parseInt(bits.slice(8 * at, 8 * at + 8), 2));
const key = await crypto.subtle.importKey("raw", raw, "AES-GCM", false, ["decrypt"]);
const inside = await crypto.subtle.decrypt({ name: "AES-GCM", iv: bytes(lock.dataset.nonce) }, key, bytes(lock.dataset.closed));
const packed = inside.slice(4, 4 + new DataView(inside).getUint32(0));
const text = await new Response(new Blob([packed]).stream().pipeThrough(new DecompressionStream("deflate"))).text();
const page = new DOMParser().parseFromString(text, "text/html");
document.head.append(page.querySelector("style"));
document.body.replaceWith(page.body);
} catch {
lock.querySelector(given ? "#not-opened" : "#no-key").hidden = false;
return;
}
// A jump inside the page would put its own mark in the key's place.
addEventListener("click", (event) => {
const link = event.target.closest("a[href^='#']"), aim = link && document.getElementById(link.hash.slice(1));
if (!aim) return;
event.preventDefault();
aim.tabIndex = -1;
aim.focus({ preventScroll: true });
aim.scrollIntoView();
});
if (document.querySelector("#today")) today();
})();
