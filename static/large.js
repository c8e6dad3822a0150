// Zooms one or two photographs without leaving the page, keeps what is in the middle in the middle, scrolls two together.
const frame = document.querySelector(".beside"), windows = Array.from(document.querySelectorAll(".window"));

const middle = (one) => ({
  x: (one.scrollLeft + one.clientWidth / 2) / one.scrollWidth, y: (one.scrollTop + one.clientHeight / 2) / one.scrollHeight,
});
const look = (one, at) => {
  one.scrollLeft = at.x * one.scrollWidth - one.clientWidth / 2;
  one.scrollTop = at.y * one.scrollHeight - one.clientHeight / 2;
};
let moved = null;
for (const one of windows) {
  one.addEventListener("scroll", () => {
    // the one that follows must not lead back
    if (moved && moved !== one) return;
    moved = one;
    for (const other of windows) if (other !== one) look(other, middle(one));
    requestAnimationFrame(() => requestAnimationFrame(() => { moved = null; }));
  });
}
// where one zooms in first is the middle; a picture's height is not known before it is there
const begin = () => windows.forEach((one) => look(one, { x: 0.5, y: 0.5 }));
addEventListener("load", begin);
document.querySelector("[data-zooms]")?.addEventListener("click", (touched) => {
  const link = touched.target.closest("a[data-zoom]");
  if (!link || touched.ctrlKey || touched.metaKey) return;
  touched.preventDefault();
  const at = windows.map(middle), zoom = Number(link.dataset.zoom);
  frame.dataset.zoom = zoom;
  for (const other of link.parentElement.querySelectorAll("a")) {
    other.classList.toggle("main", other === link);
    if (other === link) other.setAttribute("aria-current", "true"); else other.removeAttribute("aria-current");
  }
  windows.forEach((one, index) => {
    const picture = one.querySelector("img");
    if (zoom >= 4 && !picture.src.endsWith("/original")) picture.src = picture.dataset.original;
    look(one, at[index]);
  });
  // with or without what is drawn, one stays at this zoom
  const way = document.querySelector("a[data-other-way]");
  if (way) {
    const to = new URL(way.href);
    to.searchParams.set("zoom", zoom);
    way.href = to.href;
  }
  history.replaceState({}, "", link.href);
});
