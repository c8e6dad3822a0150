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
  const label = make("label", { for: "note" }, "A note with it");
  return make("form", {
    class: "take", "data-take": `/builds/${walk.build}`, "data-shot": shot.name,
    "data-next": following ? addressOf(walk, following) : "",
  },
  make("details", {}, make("summary", {}, "Note, smaller pictures"),
    make("div", { class: "field" }, label, make("textarea", { id: "note", name: "note", rows: "3" })),
    make("p", { class: "tick" }, make("label", {}, make("input", { type: "checkbox", "data-smaller": "" }), " Weak network: send smaller pictures"),
      make("span", { class: "hint" }, "Made on this phone. The camera's own picture does not go to the shop; each one says so wherever it is shown."))),
  make("p", { class: "soft", "data-if-smaller": "", hidden: "" }, "Smaller pictures go to the shop."),
  make("div", { class: "buttons" }, pick("Camera", { capture: "environment" }), pick("Gallery", { multiple: "" })),
  make("p", { class: "why", role: "alert", hidden: "" }));
};
/** A drawing kept as text, as a picture, so that nothing in it can run. */
export const pictured = (svg, alt) => {
  const picture = make("img", { alt });
  const address = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
  picture.onload = picture.onerror = () => URL.revokeObjectURL(address);
  picture.src = address;
  return picture;
};
const where = (svg, shot) =>
  svg ? [make("figure", { class: "locator" }, pictured(svg, `Where ${shot.balloon} is on the car`))] : [];
const sheet = (walk, shot, here, svg) => {
  const kept = minute(walk.fetched);
  const without = make("p", { class: "note look" },
    `No connection to the shop. This is the list as it was on ${kept}; photographs are kept on this phone and go on by themselves. What cannot be taken: skip it, and say why when the shop answers again.`);
  const list = make("details", {}, make("summary", {}, "All that is left"), make("ul", {},
    ...walk.shots.filter((one) => one.left && !here.includes(one.name)).map((one) =>
      make("li", {}, make("a", { href: addressOf(walk, one), "data-walk": "" }, `${one.balloon} ${one.view || one.part}`)))));
  if (!shot) return [make("h1", {}, "Walk"), make("p", { class: "large" }, "Nothing is left to photograph, by what this phone knows."), without];
  const following = next(walk, walk.shots.indexOf(shot), [...here, shot.name]);
  const view = shot.view ? [make("b", { class: "capital" }, `${shot.view}.`), " "] : [];
  const skip = following ? [make("a", { class: "button light", href: addressOf(walk, following), "data-walk": "" }, "Skip, come back")] : [];
  return [
    ...where(svg, shot),
    make("h1", { class: "part" }, make("span", { class: "big" }, shot.balloon), ` ${shot.part}`),
    make("p", { class: "large" }, ...view, `${shot.what}${shot.must_show ? ` Must be seen: ${shot.must_show}.` : ""}`),
    make("p", { class: "soft" }, shot.asked, shot.state ? ` ${shot.state}.` : ""),
    ...(shot.caution ? [make("p", { class: "note look" }, `▲ ${shot.caution}`)] : []),
    taking(walk, shot, following),
    make("div", { class: "buttons" }, ...skip),
    without, list,
  ];
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
  document.querySelector("main").replaceChildren(...sheet(walk, shot, here, svg));
  const count = shot ? `${walk.shots.indexOf(shot) + 1} of ${walk.shots.length}` : "";
  head(walk, make("span", { class: "count" }, make("small", {}, shot ? "shot" : ""), count), ["Photographs", "photos"], "Walk");
  return true;
};
