// Draws the cage as one types, and turns it. Without script "See what it changes" and the links do the same.
import { follow } from "./live.js";

const form = document.getElementById("cage-form");
form.classList.add("cage-live");

// What is wrong with a field stands under it, and goes when it is mended.
const mark = (page) => {
  for (const row of form.querySelectorAll(".cage-row")) {
    const field = row.querySelector("input, select");
    const why = page.getElementById(field.id)?.closest(".cage-row")?.querySelector(".why");
    row.querySelector(".why")?.remove();
    row.classList.toggle("faulty", Boolean(why));
    if (why && field !== document.activeElement) row.append(document.importNode(why, true));
    field.classList.toggle("empty", field.tagName === "INPUT" && !field.value);
  }
};

// What does not read is told by the answer too. Without the shop what is typed stays, and saving says so.
const draw = follow(form, () => form.dataset.drawn + location.search, [200, 422], mark);

// Views and turns without leaving the place or losing what is typed.
const go = (to) => { history.replaceState(null, "", to); draw(); };
const drawn = document.getElementById("cage-drawn");
drawn.addEventListener("click", (event) => {
  const link = event.target.closest("a");
  if (!link || link.pathname !== location.pathname || event.ctrlKey || event.metaKey) return;
  event.preventDefault();
  // The link is drawn anew with the rest; who came by the keyboard stays at the drawing.
  drawn.focus({ preventScroll: true });
  go(link.pathname + link.search);
});
// On glass the first touch of a part shows its number, the second leads to its sheet.
let before = null;
drawn.addEventListener("pointerdown", (event) => { before = event.pointerType === "touch" ? document.activeElement : drawn; });
drawn.addEventListener("click", (event) => {
  const part = event.target.closest(".touch");
  if (!part || before === drawn || before === part) return;
  event.preventDefault();
  part.focus({ preventScroll: true });
});
// The numbers are those of the group that is open.
form.addEventListener("toggle", (event) => {
  const key = event.target.open && event.target.dataset.open;
  const now = new URLSearchParams(location.search);
  // A group that stands open from the start was opened by nobody.
  if (!key || now.get("open") === key || !event.target.contains(document.activeElement)) return;
  now.set("open", key);
  go(`${location.pathname}?${now}`);
}, true);
const STEP = 15;
const turned = (by) => {
  const now = new URLSearchParams(location.search);
  now.delete("view");
  const turn = ((Number(now.get("turn") || 0) + by) % 360 + 360) % 360;
  if (turn) now.set("turn", turn); else now.delete("turn");
  go(`${location.pathname}?${now}`);
};
let from = null;
drawn.addEventListener("pointerdown", (event) => {
  if (event.pointerType !== "touch" && event.target.closest(".cage-drawing") && !event.target.closest("a")) from = event.clientX;
});
addEventListener("pointermove", (event) => {
  if (from === null) return;
  const steps = Math.trunc((event.clientX - from) / 40);
  if (!steps) return;
  from += steps * 40;
  turned(steps * STEP);
});
addEventListener("pointerup", () => { from = null; });
drawn.addEventListener("keydown", (event) => {
  const by = { ArrowLeft: -STEP, ArrowRight: STEP }[event.key];
  if (!by) return;
  event.preventDefault();
  turned(by);
});
