// Draws a walk's sheet from what this phone keeps, while the shop cannot be reached.
import { buildOf, walkOf, whereIs } from "./walks.js";

const KINDS = "image/jpeg,image/png,image/webp";

/** An element with these attributes and what is inside it. */
export const make = (name, told, ...inside) => {
  const made = document.createElement(name);
  for (const [what, value] of Object.entries(told || {})) made.setAttribute(what, value);
  made.append(...inside);
  return made;
};
const minute = (ms) => {
  const at = new Date(ms), two = (n) => String(n).padStart(2, "0");
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())} ${two(at.getHours())}:${two(at.getMinutes())}`;
};
const addressOf = (walk, shot) => `/builds/${walk.build}/walk?shot=${encodeURIComponent(shot.name)}`;

/** The shot to take after one of this place in the list, round and round; those that wait on this phone are taken. */
const next = (walk, at, here) => {
  const round = [...walk.shots.slice(at + 1), ...walk.shots.slice(0, Math.max(0, at))];
  return round.find((shot) => shot.left && !here.includes(shot.name));
};

const taking = (walk, shot, following) => {
  const pick = (words, told) => make("label", { class: told.capture ? "pick main" : "pick" }, words,
    make("input", { type: "file", name: "photo", accept: KINDS, ...told }));
  const skip = following ? [make("a", { class: "button", href: addressOf(walk, following), "data-walk": "" }, "Skip")] : [];
  return make("form", {
    class: "take", "data-take": `/builds/${walk.build}`, "data-shot": shot.name,
    "data-next": following ? addressOf(walk, following) : "",
  },
  make("details", { class: "noted" }, make("summary", {}, "Note"),
    make("div", { class: "field" }, make("label", { for: "note" }, "A note with it"), make("textarea", { id: "note", name: "note", rows: "3" })),
    make("p", { class: "tick" }, make("label", {}, make("input", { type: "checkbox", "data-smaller": "" }), " Weak network: send smaller pictures"),
      make("span", { class: "hint" }, "Made on this phone. The camera's own picture does not go to the shop; each one says so wherever it is shown."))),
  make("p", { class: "soft", "data-if-smaller": "", hidden: "" }, "Smaller pictures go to the shop."),
  make("p", { class: "why", role: "alert", hidden: "" }),
  make("div", { class: "walk-bar" }, pick("Gallery", { multiple: "" }), pick("Camera", { capture: "environment" }), ...skip));
};
/** The areas with a shot, each leading to the first that is left there. */
const areas = (walk, shot, left) => {
  const names = walk.shots.map((one) => one.area).filter((area, at, all) => all.indexOf(area) === at);
  const one = (area) => {
    const of = walk.shots.filter((other) => other.area === area), there = of.filter((other) => left.includes(other));
    const link = make("a", { href: addressOf(walk, there[0] || of[0]), "data-walk": "" }, make("b", {}, String(there.length)), ` ${area}`);
    if (shot && shot.area === area) link.setAttribute("aria-current", "true");
    return make("li", {}, link);
  };
  return make("nav", { class: "shot-areas", "aria-label": "Areas, with the shots left in each" }, make("ul", {}, ...names.map(one)));
};
/** A drawing kept as text, as a picture, so that nothing in it can run. */
export const pictured = (svg, alt) => {
  const picture = make("img", { alt });
  const address = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
  picture.onload = picture.onerror = () => URL.revokeObjectURL(address);
  picture.src = address;
  return picture;
};
const where = (svg, shot) => svg ? [make("figure", { class: "shot-picture" }, pictured(svg, `Where ${shot.balloon} is on the car`),
  ...(shot.stand ? [make("figcaption", {}, `Stand ${shot.stand}.`)] : []))] : [make("p", { class: "large shot-words" }, shot.what)];
const sheet = (walk, shot, here, svg) => {
  const without = make("p", { class: "note look" },
    `No connection to the shop. This is the list as it was on ${minute(walk.fetched)}; photographs are kept on this phone and go on by themselves. What cannot be taken: skip it, and say why when the shop answers again.`);
  const left = walk.shots.filter((one) => one.left && !here.includes(one.name));
  const foot = (...inside) => make("div", { class: "walk-foot" }, make("p", { class: "progress" }, `${left.length} left`), make("div", { "data-queue": "" }), ...inside);
  const top = [areas(walk, shot, left), make("div", { "data-remark": "" })];
  if (!shot) return [...top, make("div", { class: "walk-middle" }, make("h1", {}, "Walk"), make("p", { class: "large" }, "Nothing is left to photograph, by what this phone knows."), without), foot()];
  const following = next(walk, walk.shots.indexOf(shot), [...here, shot.name]);
  const view = shot.view ? [make("span", { class: "capital" }, shot.view), ", "] : [];
  const must = shot.must_show.length ? [make("small", {}, "Must be seen"), make("ul", {}, ...shot.must_show.map((one) => make("li", {},
    make("label", {}, make("input", { type: "checkbox", name: "seen", value: one }), ` ${one}`))))] : [];
  const middle = make("div", { class: "walk-middle" },
    make("div", { class: "shot-what" }, make("h1", {}, shot.balloon), make("span", { class: "shot-view" }, ...view, `${shot.place} of ${shot.of_part}`),
      make("p", {}, shot.part)),
    ...where(svg, shot),
    make("div", { class: "shot-must" }, ...must, make("p", { class: "soft" }, `${svg ? `${shot.what} ` : ""}${shot.asked}`, shot.state ? ` ${shot.state}.` : ""),
      ...(shot.caution ? [make("p", { class: "note look" }, `▲ ${shot.caution}`)] : [])),
    without);
  return [...top, middle, foot(taking(walk, shot, following))];
};

/** The strip and the title of a walk's sheet that the shop did not send. */
export const head = (walk, count, [words, to], title) => {
  const strip = make("header", { class: "strip" },
    make("details", {}, make("summary", {}, walk.name)), make("span", { class: "name" }, walk.name), make("span", { class: "hold" }, walk.hold),
    count,
    make("nav", { "aria-label": "Sheets" }, make("ul", {}, make("li", {}, make("a", { href: `/builds/${walk.build}` }, "Next")),
      make("li", {}, make("a", { href: `/builds/${walk.build}/${to}` }, words)))));
  document.querySelector(".strip")?.remove();
  document.querySelector(".sheet").prepend(strip);
  document.title = `${walk.name}: ${title} · Tackbook`;
};

/** Draws the sheet of a walk's address; gives whether the phone keeps that walk. `here` names the shots that wait on it. */
export const draw = async (address, here) => {
  const to = new URL(address, location.href);
  const walk = await walkOf(buildOf(to.pathname)).catch(() => null);
  if (!walk || walk.person !== document.body.dataset.person) return false;
  const named = walk.shots.find((shot) => shot.name === to.searchParams.get("shot"));
  const at = walk.shots.findIndex((shot) => shot.name === to.searchParams.get("after"));
  const shot = named || next(walk, at, here);
  const svg = shot && await whereIs(walk.build, shot.balloon).catch(() => "");
  document.body.classList.add("walks");
  document.querySelector("main").replaceChildren(...sheet(walk, shot, here, svg));
  const count = shot ? `${walk.shots.indexOf(shot) + 1} of ${walk.shots.length}` : "";
  head(walk, make("span", { class: "count" }, make("small", {}, shot ? "shot" : ""), count), ["Photographs", "photos"], "Walk");
  return true;
};
