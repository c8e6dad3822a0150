// The tape walk without leaving the page: each figure is kept on this phone first, then sent. Without it the plain form does the same.
import { head, make, pictured } from "./drawn.js";
import { begin, figureOf, figures, forgetFigure, keepFigure, known, sentence } from "./taped.js";
import { keepAs, keepWalk, tapeOf, walkOf, whereIs } from "./walks.js";

const form = document.getElementById("tape"), field = form.elements.value;
const id = (name) => document.getElementById(`tape-${name}`);
const build = tapeOf(location.pathname), alone = document.body.dataset.shell !== undefined;
const apart = new Set(); // those on the left whose right side is measured on its own
let walk = null, at = null;

const stepOf = (key) => walk.steps.find((step) => step.key === key);
const other = (step) => step.key.replace(/_(left|right)$/, (_, side) => side === "left" ? "_right" : "_left");
// what the shop did not take is no measurement
const has = (step) => Boolean(step.was || (figureOf(build, step.key) && figureOf(build, step.key).state !== "refused"));
const taken = (step) => has(step) || (step.hand === "right" && has(stepOf(other(step))));
/** The steps that one walks to: a right one only where it is not as the left. */
const walked = () => walk.steps.filter((step) => step.hand !== "right" || has(step) || step === at || apart.has(other(step)));
const radios = () => [...form.elements.sixteenths];
const inch = () => form.elements.shown_in.value === "inch";

/** What stands on the pad, large. */
const show = () => {
  const chosen = radios().find((one) => one.checked), parts = inch() && chosen ? chosen.parentNode.textContent.trim() : "";
  const fraction = parts && parts !== "even" ? [make("span", { class: "fr" }, parts)] : [];
  id("figure").replaceChildren(field.value, ...fraction);
  id("minus").setAttribute("aria-pressed", field.value.startsWith("-"));
};
const setUnits = (metric) => {
  form.elements.shown_in.value = metric ? "metric" : "inch";
  document.querySelector(".tape-unit").textContent = metric ? "mm" : "in";
  id("pad").classList.toggle("tape-metric", metric);
  document.querySelector("[data-key=mm]").textContent = metric ? "in" : "mm";
  if (metric) radios().forEach((one) => { one.checked = false; });
};
const tell = (...blocks) => id("told").replaceChildren(...blocks);
const fault = (why) => tell(make("p", { class: "why", role: "alert" }, why));

/** Two figures of one measurement: this phone's and the shop's. */
const differ = (figure) => {
  const keep = make("button", { type: "button" }, "Keep mine"), leave = make("button", { type: "button" }, "Keep theirs");
  keep.onclick = async () => { await keepFigure({ ...figure, was: figure.theirs }); go(figure.key); };
  leave.onclick = async () => {
    Object.assign(stepOf(figure.key), { was: figure.theirs, text: figure.theirs, sixteenths: null });
    await forgetFigure(figure);
    go(figure.key);
  };
  const mine = `${figure.text}${figure.sixteenths ? ` ${figure.sixteenths}/16` : ""}`;
  tell(make("div", { class: "walk-remark", role: "alert" },
    make("p", {}, make("b", {}, `Somebody else wrote ${figure.theirs || "nothing"} here meanwhile.`), ` This phone has ${mine}.`),
    make("div", { class: "walk-two" }, keep, leave)));
};

const areas = () => {
  const steps = walked();
  id("areas").replaceChildren(...walk.areas.flatMap((word, number) => {
    const of = steps.filter((step) => step.area === number), there = of.filter(taken).length;
    if (!of.length) return [];
    const first = of.find((step) => !taken(step)) || of[0];
    const link = make("a", { href: `?at=${first.key}`, "data-step": first.key }, make("span", {}, word),
      make("progress", { max: of.length, value: there, "aria-label": `${word}, ${there} of ${of.length} measured` }));
    if (at && at.area === number) link.setAttribute("aria-current", "true");
    return [make("li", {}, link)];
  }));
  const where = at ? `${steps.indexOf(at) + 1} of ${steps.length}` : "";
  document.getElementById("tape-count").textContent = where;
};
const nextOf = (step) => {
  const steps = walked(), same = form.elements.same, right = step.hand === "left" && !same.checked && stepOf(other(step));
  return right || steps[steps.indexOf(step) + 1];
};
const nameNext = () => {
  const next = at && nextOf(at);
  const words = !next ? "Finish" : `Next: ${next.hand === "right" && other(next) === at.key ? "right side" : walk.short[next.key] || walk.short[other(next)] || "on"}`;
  id("next").textContent = words;
};

const picture = async (step) => {
  const svg = await whereIs(build, step.key, "tape").catch(() => "");
  if (step !== at) return;
  if (svg) id("picture").replaceChildren(pictured(svg, `${step.name}: ${step.hold}`));
};
/** Shows a measurement; nothing is left to show where there is none. */
const draw = (key) => {
  at = stepOf(key) || null;
  form.hidden = !at;
  id("done").hidden = Boolean(at);
  areas();
  tell();
  if (!at) {
    const open = walked().filter((step) => !taken(step)).length;
    id("done").querySelector("h1").textContent = open ? `${open} left to measure` : "Nothing is left to measure";
    id("done").querySelector("p").textContent = open ? "Touch an area above, and go on with what is open there."
      : "Every measurement that the bars chosen need is here. Plates and dies are named in the cage's room.";
    id("done").querySelector("a").href = `/builds/${build}/cage`;
    return;
  }
  const mine = figureOf(build, at.key);
  setUnits(mine ? mine.units === "metric" : !walk.inch);
  form.elements.at.value = at.key;
  form.elements.was.value = at.was;
  field.value = (mine || at).text;
  const parts = (mine || at).sixteenths;
  radios().forEach((one) => { one.checked = inch() && parts !== null && Number(one.value) === parts; });
  id("name").textContent = at.name;
  id("hold").textContent = at.hold;
  id("minus").hidden = !at.minus;
  id("same").hidden = at.hand !== "left";
  form.elements.same.checked = at.hand === "left" && !(has(stepOf(other(at))) || apart.has(at.key) || (mine && !mine.same));
  picture(at);
  show();
  nameNext();
  if (mine && mine.state === "differs") differ(mine);
  if (mine && mine.state === "refused") fault(mine.why);
};
const go = (key, stay) => {
  if (!stay) history.pushState({}, "", `${location.pathname}?at=${key}`);
  draw(key);
};
const line = () => {
  const held = figures.find((one) => one.build === build && one.state !== "here");
  const look = held ? [" ", make("a", { href: `?at=${held.key}`, "data-step": held.key }, "Look")] : [];
  id("said").replaceChildren(sentence() || (walk && known ? "All measurements of this phone are with the shop." : ""), ...look);
};

/** Keeps what stands on the pad; gives why it cannot be kept. */
const keep = async () => {
  const chosen = radios().find((one) => one.checked), parts = inch() && chosen ? Number(chosen.value) : null;
  const text = field.value.trim(), same = at.hand === "left" && form.elements.same.checked;
  if (at.hand === "left") apart[same ? "delete" : "add"](at.key);
  if (!text && !parts) return "";
  if (text && !/\d/.test(text)) return `“${text}” is no measurement. Touch the figures.`;
  if (parts && !/^-?\d*$/.test(text)) return "The fraction is typed and chosen: choose “even”, or type whole inches alone.";
  const mine = figureOf(build, at.key), now = mine || at;
  const alike = at.hand !== "left" || same === !has(stepOf(other(at)));
  if (now.text === text && (now.sixteenths || 0) === (parts || 0) && alike && (!mine || mine.state === "here")) return "";
  await keepFigure({ build, key: at.key, text, sixteenths: parts, units: form.elements.shown_in.value, was: mine?.theirs ?? at.was, same });
  return "";
};
const submitted = async (sent) => {
  if (!walk || !at) return;
  sent.preventDefault();
  const back = sent.submitter && sent.submitter.id === "tape-back", from = at;
  let why;
  try {
    why = await keep();
  } catch {
    // this browser keeps nothing: the shop gets it at once
    if (alone) return fault("This phone could not keep the figure. Write it down, and type it when the shop answers.");
    form.removeEventListener("submit", submitted);
    return form.requestSubmit(sent.submitter);
  }
  if (why) return fault(why);
  const steps = walked(), to = back ? steps[steps.indexOf(from) - 1] : nextOf(from);
  if (to || !back) go(to ? to.key : "done");
};

const press = (key) => {
  if (key === "mm") setUnits(inch());
  else if (key === "rub out") {
    const chosen = radios().find((one) => one.checked);
    if (chosen) chosen.checked = false; else field.value = field.value.slice(0, -1);
  } else if (field.value.length < 12) field.value += key;
  show();
};
const ready = () => {
  document.documentElement.classList.add("taped");
  id("figure").hidden = false;
  form.addEventListener("submit", submitted);
  form.addEventListener("input", () => { show(); nameNext(); });
  id("pad").addEventListener("click", (event) => {
    const key = event.target.closest("[data-key]");
    if (key) press(key.dataset.key);
  });
  id("minus").addEventListener("click", () => {
    field.value = field.value.startsWith("-") ? field.value.slice(1) : `-${field.value}`;
    show();
  });
  document.addEventListener("click", (event) => {
    const link = event.target.closest && event.target.closest("[data-step]");
    if (!link || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    go(link.dataset.step);
  });
  // a keyboard types on the pad as well
  document.addEventListener("keydown", (event) => {
    if (event.target.matches("input[type=text]") || event.ctrlKey || event.metaKey || event.altKey) return;
    if (/^[0-9./ -]$/.test(event.key) && !(event.key === " " && event.target.matches("button, input, a"))) press(event.key);
    else if (event.key === "Backspace") press("rub out");
    else return;
    event.preventDefault();
  });
  addEventListener("popstate", () => draw(new URLSearchParams(location.search).get("at") || ""));
};

const begun = async () => {
  if (!alone) await keepWalk(build, document.body.dataset.person, "tape").catch(() => {});
  walk = await walkOf(build, "tape").catch(() => null);
  if (!walk) {
    id("away").hidden = !alone;
    return;
  }
  if (alone) {
    // who was signed in when it was kept; nobody else's figures go out under this name
    document.body.dataset.person = walk.person;
    head(walk, make("span", { class: "count", id: "tape-count" }), ["Cage", "cage"], "Tape walk");
  }
  ready();
  await begin((figure, set) => {
    if (figure && set !== undefined && figure.build === build) {
      const step = stepOf(figure.key);
      if (step) Object.assign(step, { was: set, text: figure.text, sixteenths: figure.sixteenths });
      if (figure.same && step) Object.assign(stepOf(other(step)) || {}, { was: "", text: "", sixteenths: null });
      if (step === at) form.elements.was.value = set;
      keepAs(walk).catch(() => {});
    }
    if (figure || figures.some((one) => one.state === "differs")) areas();
    const mine = at && figureOf(build, at.key);
    if (mine && mine.state === "differs" && !id("told").firstChild) differ(mine);
    if (mine && mine.state === "refused" && !id("told").firstChild) fault(mine.why);
    line();
  });
  const first = walked().find((step) => !taken(step));
  const named = alone || at ? "" : form.elements.at.value;
  draw(new URLSearchParams(location.search).get("at") || named || (first ? first.key : ""));
  line();
};
begun();
