// Walks on from shot to shot without leaving the page, with a network and without one.
import { draw } from "./drawn.js";
import { place, say } from "./queue.js";
import { remarked } from "./remark.js";
import { all, refresh, unsent } from "./sending.js";
import { showChoice } from "./smaller.js";
import { buildOf, keepWalk } from "./walks.js";

const { person, shell } = document.body.dataset;
const WAITS = 8000; // milliseconds that a sheet is waited for, where this phone can draw it itself
/** Draws a walk's sheet; gives whether this phone keeps that walk. */
export const drawHere = async (address) => {
  await refresh().catch(() => {});
  const build = buildOf(new URL(address, location.href).pathname);
  const here = all.filter((one) => one.build === build && one.state !== "refused").map((one) => one.shot);
  const drawn = Boolean(build) && await draw(address, here);
  showChoice();
  return drawn;
};
const keepThis = () => {
  const build = buildOf(location.pathname);
  // without it the walk only needs the network
  if (build && person && shell === undefined) keepWalk(build, person).catch(() => {});
};
const drawInstead = async (address, keep) => {
  if (!(await drawHere(address))) {
    say("No connection to the shop: the next shot cannot be shown. The photos stay here and go on by themselves.");
    return;
  }
  if (!keep) history.pushState({}, "", address);
  place();
  scrollTo(0, 0);
};

// Walking on without leaving the page, so that sending goes on.
const swap = (page, address, keep) => {
  for (const name of ["main", ".strip", "footer"]) {
    const [old, fresh] = [document.querySelector(name), page.querySelector(name)];
    if (old && fresh) old.replaceWith(document.importNode(fresh, true));
  }
  document.title = page.title;
  if (!keep) history.pushState({}, "", address);
  place();
  showChoice();
  scrollTo(0, 0);
  keepThis();
};
/** Goes to a sheet of the walk, or sends a form of it. */
export const go = (method, address, body, keep) => {
  const asking = new XMLHttpRequest();
  asking.open(method, address);
  asking.responseType = "document";
  if (body) asking.setRequestHeader("Content-Type", "application/x-www-form-urlencoded");
  asking.onload = () => {
    const page = asking.response;
    // a sheet drawn here gives way to the shop's own, unless a photo is just being read
    if (shell !== undefined && !all.some((one) => one.state === "reading")) location.assign(address);
    else if (page && page.querySelector("main")) swap(page, asking.responseURL || address, keep);
    else if (!unsent().length) location.assign(address);
  };
  if (method === "GET") asking.timeout = WAITS;
  asking.onerror = asking.ontimeout = () => {
    if (method === "GET") drawInstead(address, keep);
    else say("No connection to the shop: this was not sent. The photos stay here and go on by themselves.");
  };
  asking.send(body);
};
addEventListener("popstate", () => go("GET", location.href, null, true));
document.addEventListener("click", (touched) => {
  const link = touched.target.closest && touched.target.closest("a[data-walk]");
  const alone = !unsent().length && navigator.onLine && !remarked();
  if (!link || alone || touched.ctrlKey || touched.metaKey || new URL(link.href).origin !== location.origin) return;
  touched.preventDefault();
  go("GET", link.href);
});
document.addEventListener("submit", (sent) => {
  const form = sent.target;
  if (!form.matches("form[data-walk]") || !unsent().length) return;
  sent.preventDefault();
  go("POST", form.action, new URLSearchParams(new FormData(form)).toString());
});
keepThis();
