// Draws the cage as one types, and turns it. Without script "Draw without saving" and the links do the same.
const form = document.getElementById("cage-form");
form.classList.add("cage-live");
let waits = 0;
let asked = 0;

const put = (text) => {
  const page = new DOMParser().parseFromString(text, "text/html");
  for (const one of document.querySelectorAll("[data-live]")) {
    const other = page.getElementById(one.id);
    if (other && other.innerHTML !== one.innerHTML) one.innerHTML = other.innerHTML;
  }
  const said = page.getElementById("cage-said");
  if (said) document.getElementById("cage-said").textContent = said.textContent;
};

// What is wrong with a field stands under it, and goes when it is mended.
const mark = (text) => {
  const page = new DOMParser().parseFromString(text, "text/html");
  for (const row of form.querySelectorAll(".cage-row")) {
    const field = row.querySelector("input, select");
    const other = page.getElementById(field.id);
    const why = other && other.closest(".cage-row").querySelector(".why");
    const stands = row.querySelector(".why");
    if (stands) stands.remove();
    row.classList.toggle("faulty", Boolean(why));
    if (why && field !== document.activeElement) row.append(why);
    field.classList.toggle("empty", field.tagName === "INPUT" && !field.value);
  }
};

const draw = async () => {
  const turn = ++asked;
  try {
    const answer = await fetch(form.dataset.drawn + location.search, {
      method: "POST", body: new URLSearchParams(new FormData(form)), credentials: "same-origin",
    });
    if (turn !== asked || !(answer.ok || answer.status === 422)) return;
    const text = await answer.text();
    put(text);
    mark(text);
  } catch {
    // No network: what is typed stays, and saving says so.
  }
};

form.addEventListener("input", () => { clearTimeout(waits); waits = setTimeout(draw, 250); });

// Views and turns without leaving the place or losing what is typed.
const go = (to) => { history.replaceState(null, "", to); draw(); };
document.getElementById("cage-drawn").addEventListener("click", (event) => {
  const link = event.target.closest("a");
  if (!link || link.pathname !== location.pathname || event.ctrlKey || event.metaKey) return;
  event.preventDefault();
  go(link.pathname + link.search);
});
const STEP = 15;
const turned = (by) => {
  const now = new URLSearchParams(location.search);
  now.delete("view");
  const turn = ((Number(now.get("turn") || 0) + by) % 360 + 360) % 360;
  if (turn) now.set("turn", turn); else now.delete("turn");
  go(`${location.pathname}?${now}`);
};
let from = null;
const drawn = document.getElementById("cage-drawn");
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
