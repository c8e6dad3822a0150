// The weld walk: each line is kept on this phone first, then sent; without the shop it goes on from what the phone keeps.
// Without this script the plain form does the same.
import { head, make, pictured } from "./drawn.js";
import { begin, forgetLine, keepLine, lines, linesOf, send, sentence } from "./welded.js";
import { keepWalk, walkOf, weldsOf, whereIs } from "./walks.js";

const form = document.getElementById("weld-walk");
const id = (name) => document.getElementById(`weld-${name}`);
const build = weldsOf(location.pathname), alone = document.body.dataset.shell !== undefined;
const sheetOf = (joint) => `/builds/${build}/welds/walk?joint=${joint}`;
let walk = null;

const pairs = () => [...new FormData(form)].filter(([name]) => name !== "next").map(([name, value]) => [name, String(value)]);
/** Puts what a line says into the form's fields. */
const fill = (said) => {
  for (const one of form.elements) {
    if (!one.name || ["joint", "seen", "shown_in", "next"].includes(one.name)) continue;
    const values = said.filter((pair) => pair[0] === one.name).map((pair) => pair[1]);
    if (one.type === "checkbox") one.checked = values.includes(one.value);
    else if (values.length) one.value = values[0];
    else if (one.matches("input, textarea")) one.value = "";
  }
};
/** Lines of this joint that the shop did not take: they are shown, and nothing of them is lost. */
const tellHeld = () => {
  const joint = form.elements.joint.value;
  id("told").replaceChildren(...linesOf(build, joint).filter((one) => one.state !== "here").map((one) => {
    const back = make("button", { type: "button" }, "Put it into the form"), away = make("button", { type: "button" }, "Forget it");
    back.onclick = async () => { fill(one.pairs); await forgetLine(one.id); };
    away.onclick = () => {
      if (away.dataset.sure) return forgetLine(one.id).catch(() => {});
      away.dataset.sure = "yes";
      away.textContent = "Forget it for good";
    };
    const says = one.pairs.filter(([name, value]) => value && !["joint", "seen", "shown_in"].includes(name)).map((pair) => pair[1]).join(", ");
    return make("div", { class: "walk-remark", role: "alert" }, make("p", {}, make("b", {}, one.why), ` The line on this phone: ${says}.`),
      make("div", { class: "walk-two" }, back, away));
  }));
};
const tell = () => {
  id("said").textContent = sentence();
  if (form.elements.joint.value && !id("told").contains(document.activeElement)) tellHeld();
};
// what this form held is a line on this phone now, or with the shop
const nothingUnsaved = () => {
  const begins = `unsaved ${document.body.dataset.person} ${location.pathname} `;
  Object.keys(localStorage).filter((name) => name.startsWith(begins)).forEach((name) => localStorage.removeItem(name));
};

/** The joint after one in the order, without those that have a weld on this phone. */
const nextOf = (joint) => {
  const at = walk.order.indexOf(joint), round = [...walk.order.slice(at + 1), ...walk.order.slice(0, Math.max(0, at))];
  return round.find((one) => one !== joint && !linesOf(build, one).some((line) => line.pairs.some(([name, value]) => name === "did" && value !== "coupon")));
};
const kindHere = (seam) => {
  const mine = linesOf(build, seam.joint).filter((one) => one.state === "here").pop();
  const did = mine && mine.pairs.find(([name]) => name === "did");
  return did && ["welded", "repaired"].includes(did[1]) ? "inspected" : seam.kind;
};
const sets = () => {
  const inspects = form.elements.did.value === "inspected";
  for (const set of form.querySelectorAll(".weld-set")) set.hidden = set.disabled = (set.dataset.of === "inspection") !== inspects;
};
const today = () => {
  const now = new Date(), two = (count) => String(count).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
};
const draw = async (joint) => {
  const seam = walk.seams.find((one) => one.joint === joint) || walk.seams.find((one) => one.joint === walk.order[0]) || walk.seams[0];
  form.reset();
  fill([...walk.begun.filter(([name]) => name !== "day"), ["day", today()], ["did", kindHere(seam)]]);
  form.elements.shown_in.value = walk.inch ? "inch" : "metric";
  form.elements.joint.value = seam.joint;
  form.elements.seen.value = String(seam.seen);
  const here = linesOf(build, seam.joint).filter((one) => one.state === "here").length;
  id("joint").textContent = seam.joint;
  id("stage").textContent = here ? `${here === 1 ? "1 line" : `${here} lines`} on this phone` : seam.stage;
  id("seam").textContent = `Seam ${seam.length}, ${seam.overhead} of it looks down.`;
  id("held").textContent = seam.held ? `▲ Held: ${seam.held}.` : "";
  id("overhead").hidden = !seam.down;
  id("picture").replaceChildren();
  const next = nextOf(seam.joint);
  id("save").textContent = next ? `Save, next: ${next}` : "Save";
  id("skip").hidden = !next;
  if (next) id("skip").href = sheetOf(next);
  form.hidden = false;
  sets();
  tell();
  const svg = await whereIs(build, seam.joint, "weld").catch(() => "");
  if (svg && form.elements.joint.value === seam.joint) {
    id("picture").replaceChildren(pictured(svg, `Where ${seam.joint} is on the car`), ...(seam.stand ? [make("figcaption", {}, `Stand ${seam.stand}.`)] : []));
  }
};

const submitted = async (sent) => {
  sent.preventDefault();
  const joint = form.elements.joint.value, button = form.querySelector(".walk-bar button");
  const plainly = () => {
    form.removeEventListener("submit", submitted);
    button.disabled = false;
    form.requestSubmit(button);
  };
  button.disabled = true;
  let name;
  try {
    name = await keepLine(build, joint, pairs());
  } catch {
    // this browser keeps nothing: the shop gets it at once
    if (!alone) return plainly();
    button.disabled = false;
    return id("told").replaceChildren(make("p", { class: "why", role: "alert" }, "This phone could not keep the line. Write it down, and type it when the shop answers."));
  }
  await send().catch(() => {});
  const left = lines.find((one) => one.id === name);
  if (left && left.state !== "here" && !alone) {
    // the shop says it at the fields
    await forgetLine(name);
    return plainly();
  }
  nothingUnsaved();
  button.disabled = false;
  if (alone) {
    if (left && left.state !== "here") return tellHeld();
    const next = nextOf(joint) || joint;
    history.pushState({}, "", sheetOf(next));
    scrollTo(0, 0);
    return draw(next);
  }
  const next = form.elements.next ? form.elements.next.value : "";
  if (left && !(navigator.serviceWorker && navigator.serviceWorker.controller)) {
    // without the shell no other sheet opens now
    button.disabled = true;
    id("told").replaceChildren(make("p", { role: "status" }, make("b", {}, "This line is kept on this phone."), " Keep this page open until the shop answers."));
    return;
  }
  location.href = next ? sheetOf(next) : left ? sheetOf(joint) : `/builds/${build}/welds?joint=${joint}`;
};

const begun = async () => {
  if (alone) {
    walk = await walkOf(build, "weld").catch(() => null);
    if (!walk || !walk.seams.length) {
      id("away").hidden = false;
      return;
    }
    // who was signed in when it was kept; nobody else's lines go out under this name
    document.body.dataset.person = walk.person;
    head(walk, make("span", { class: "count" }), ["Welds", "welds"], "Weld walk");
    form.elements.did.addEventListener("change", sets);
    addEventListener("popstate", () => draw(new URLSearchParams(location.search).get("joint") || ""));
    id("skip").addEventListener("click", (touched) => {
      touched.preventDefault();
      history.pushState({}, "", id("skip").href);
      draw(new URL(id("skip").href).searchParams.get("joint"));
    });
  }
  form.addEventListener("submit", submitted);
  const beginning = begin(tell);
  if (alone) {
    // those that wait are counted before the first joint is chosen
    await Promise.race([beginning, new Promise((done) => setTimeout(done, 1500))]);
    await draw(new URLSearchParams(location.search).get("joint") || "");
  } else {
    await beginning;
    await keepWalk(build, document.body.dataset.person, "weld").catch(() => {});
  }
};
if (form) begun(); else if (build) keepWalk(build, document.body.dataset.person, "weld").catch(() => {});
