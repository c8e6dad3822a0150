// On every sheet: what is on this phone and not yet with the shop, and for how long. It goes on by itself.
import { canKeep } from "./keeping.js";
import { keepRemark, remark } from "./remark.js";
import { begin as beginTape, figures, sentence as ofTape } from "./taped.js";
import { beginSaid, tellSaid } from "./said.js";
import { all, begin, giveUp, mine, refresh, takeOver, unsent } from "./sending.js";
import { forgetWalks, onlyOf } from "./walks.js";
import { begin as beginWelds, lines as weldLines, sentence as ofWelds } from "./welded.js";

const MINUTE = 60000;

const make = (name, words, parent) => {
  const made = document.createElement(name);
  made.textContent = words;
  parent.append(made);
  return made;
};
const panel = document.createElement("section");
panel.className = "unsent";
panel.setAttribute("aria-label", "Photographs on this phone");
panel.hidden = true;
const list = make("ul", "", panel);
const said = make("p", "", panel);
said.setAttribute("role", "status");
const line = make("div", "", panel);
line.className = "bar";
const bar = make("progress", "", line);

const taped = make("p", "", panel);
taped.setAttribute("role", "status");

/** Puts the panel where the sheet has a place for it or ends, also after the sheet was changed for another. */
export const place = () => {
  const own = document.querySelector("[data-queue]");
  if (own) own.append(panel); else document.querySelector("footer").before(panel);
  keepRemark();
  // the area one is at is in sight
  document.querySelector(".shot-areas [aria-current]")?.scrollIntoView({ inline: "nearest", block: "nearest" });
};

let toRead = 0;
/** How many of a folder are still to be read, so that the count says what comes. */
export const coming = (count) => {
  toRead = count;
  tell();
};
const age = (since) => {
  const minutes = Math.max(0, Math.floor((Date.now() - since) / MINUTE));
  if (minutes < 60) return `${minutes} min`;
  return minutes < 48 * 60 ? `${Math.floor(minutes / 60)} h` : `${Math.floor(minutes / 1440)} days`;
};
const words = (waiting) => {
  const refused = all.filter((one) => one.state === "refused").length;
  const lost = refused ? ` ${refused} not taken by the shop.` : "";
  if (waiting.length === 0 && all.some((one) => one.state === "reading")) return `One is being read.${lost}`;
  if (waiting.length === 0) return refused ? lost.trim() : "All photographs of this phone are kept by the shop.";
  const sending = waiting.filter((one) => one.state === "sending").length;
  const oldest = age(Math.min(...waiting.map((one) => one.picked)));
  const cut = waiting.find((one) => one.why && mine(one)), others = waiting.find((one) => !mine(one));
  const names = others && document.body.dataset.person ? ` Those of ${others.by} wait until they sign in here.` : "";
  const nobody = document.body.dataset.person ? "" : " Sign in, and they go on by themselves.";
  const there = all.filter((one) => one.state === "kept").length;
  const more = (toRead ? ` ${toRead} more to be read.` : "")
    + (there ? ` ${there} of ${there + waiting.length + toRead} are with the shop.` : "");
  return `${waiting.length} on this phone, ${sending ? `sending ${sending}` : "waiting"}; the oldest for ${oldest}.${more} `
    + `Keep a page of the shop open.${cut ? " " + cut.why : ""}${names}${nobody}${lost}`;
};
let awake = null;
// A phone that falls asleep stops sending.
const stayAwake = (wanted) => {
  if (!navigator.wakeLock || document.hidden || wanted === Boolean(awake)) return;
  const held = awake;
  awake = wanted ? navigator.wakeLock.request("screen").catch(() => null) : null;
  if (!wanted) held.then((lock) => lock && lock.release());
};
document.addEventListener("visibilitychange", () => {
  // the browser lets go of it by itself when the page is hidden
  awake = null;
  if (!document.hidden) tell();
});
/** Says how much is on this phone. */
export const tell = () => {
  const waiting = unsent();
  stayAwake(waiting.some((one) => one.state === "sending"));
  // the tape walk and the weld walk say it themselves
  const measured = [document.getElementById("tape") ? "" : ofTape(), document.getElementById("weld-walk") ? "" : ofWelds()].filter(Boolean).join(" ");
  if (taped.textContent !== measured) taped.textContent = measured;
  panel.hidden = all.length === 0 && !measured;
  said.hidden = all.length === 0;
  const now = words(waiting);
  // said again only when it is something else
  if (said.dataset.words !== now) {
    said.dataset.words = now;
    said.textContent = now;
    if (waiting.some((one) => one.signIn)) {
      said.append(" ");
      make("a", "Sign in", said).href = `/sign-in?then=${encodeURIComponent(location.pathname + location.search)}`;
    }
    if (document.body.dataset.person && waiting.some((one) => !mine(one))) {
      said.append(" ");
      const button = make("button", "Send them under my name", said);
      button.type = "button";
      button.onclick = () => takeOver().catch(() => {});
    }
  }
  const counted = all.filter((one) => one.state === "kept" || waiting.includes(one));
  bar.max = Math.max(1, counted.reduce((sum, one) => sum + one.size, 0));
  bar.value = counted.reduce((sum, one) => sum + one.sent, 0);
  line.hidden = waiting.length === 0;
};
/** Says something that is not about one photograph. */
export const say = (sentence) => {
  said.dataset.words = sentence;
  said.textContent = sentence;
  panel.hidden = false;
};

const rowOf = (one) => {
  const row = document.createElement("li");
  one.row = row;
  if (one.url) {
    const picture = make("img", "", row);
    Object.assign(picture, { alt: "", width: 56, height: 42, src: one.url });
  }
  one.words = make("p", "", row);
  // the newest, and those that somebody has to look at
  for (const old of all.filter((old) => old !== one && old.state !== "refused" && old.row)) {
    old.row.remove();
    if (old.url) URL.revokeObjectURL(old.url);
    old.url = "";
  }
  list.prepend(row);
};
const forgetting = (one) => {
  const button = make("button", "Forget it", one.words);
  button.type = "button";
  button.onclick = () => {
    if (button.dataset.sure) return giveUp(one).catch(() => {});
    button.dataset.sure = "yes";
    button.textContent = "Forget it for good";
  };
};
/** Shows how a photograph stands: the last one picked on this page, and those that the shop did not take. */
export const show = (one) => {
  if (one.state === "dropped") {
    one.row?.remove();
    return tell();
  }
  if (!one.row && (one.url || one.state === "refused")) rowOf(one);
  if (one.row) {
    if (one.state === "refused" && !one.row.isConnected) list.append(one.row);
    one.words.textContent = "";
    make("b", one.shot.split(" ")[0] || "Photo", one.words);
    const percent = Math.floor((100 * one.sent) / Math.max(1, one.size));
    const state = {
      reading: " being read", waiting: " on this phone", sending: ` sending, ${percent} %`,
      kept: " kept by the shop.", refused: " not taken.",
    }[one.state];
    one.words.append(state + " " + (one.state === "sending" || one.state === "waiting" ? "" : one.why || ""));
    if (one.shot && (one.state === "refused" || (one.state === "kept" && one.why))) {
      const again = make("a", "Take it again", one.words);
      again.href = `/builds/${one.build}/walk?shot=${encodeURIComponent(one.shot)}`;
      again.dataset.walk = "";
    }
    if (one.state === "refused" && one.uuid) forgetting(one);
    if ((one.state === "kept" || one.state === "refused") && one.why) remark(one);
  }
  if (one.state === "kept") tellSaid();
  tell();
};

// What is kept of walks is this person's alone.
const { person, shell } = document.body.dataset;
if (shell === undefined) (person ? onlyOf(person) : forgetWalks()).catch(() => {});

// Where the browser lets it, the shop's shell opens without a network.
if (person && isSecureContext && navigator.serviceWorker) {
  const worker = window.trustedTypes
    ? trustedTypes.createPolicy("tackbook-worker", { createScriptURL: () => "/sw.js" }).createScriptURL("") : "/sw.js";
  // without it the pages need the network, and nothing else changes
  navigator.serviceWorker.register(worker).catch(() => {});
  // A page that was on its way here while the worker took the open ones over is nobody's: it asks to be taken too.
  navigator.serviceWorker.ready.then((there) => {
    if (!navigator.serviceWorker.controller) there.active.postMessage("take me");
  });
}

// Signing out forgets the walks and leaves what was not sent on this phone: said first, done at the second press.
document.addEventListener("submit", (leaving) => {
  const form = leaving.target, kept = [[unsent().length, "photograph"], [figures.length, "measurement"], [weldLines.length, "weld line"]].filter(([count]) => count);
  const waiting = kept.reduce((sum, [count]) => sum + count, 0);
  if (!form.matches('form[action="/sign-out"]')) return;
  leaving.preventDefault();
  if (!waiting || form.dataset.sure) {
    // no disk keeps anybody signed in; the sheet that follows forgets them once more
    Promise.race([forgetWalks().catch(() => {}), new Promise((done) => setTimeout(done, 2000))]).then(() => form.submit());
    return;
  }
  form.dataset.sure = "yes";
  const here = kept.map(([count, what]) => `${count} ${what}${count === 1 ? "" : "s"}`).join(" and ");
  const why = make("p", waiting === 1 ? `${here} is only on this phone. It stays here, and goes on when you sign in again. `
    : `${here} are only on this phone. They stay here, and go on when you sign in again. `, form);
  why.className = "why";
  why.setAttribute("role", "alert");
  make("button", "Sign out all the same", form);
  form.querySelector("button").remove();
});

place();
// the tape walk and the weld walk begin theirs themselves
if (!document.getElementById("tape")) beginTape(() => tell());
if (!document.getElementById("weld-walk")) beginWelds(() => tell());
canKeep().then((keeps) => {
  if (!keeps) return;
  begin(show);
  beginSaid();
  // what waits gets older, and other tabs send
  setInterval(() => refresh().then(tell, () => {}), MINUTE / 2);
});
