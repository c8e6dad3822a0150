// The tape's figures that this phone keeps until the shop has them. They go on by themselves, on every sheet.
import { database } from "./database.js";

const AGAIN = 5000, LONGEST = 60000; // milliseconds until it is tried again: the first time, at most
const { inOne, made } = database("tackbook tape", (base) => base.createObjectStore("figures", { keyPath: ["build", "key"] }));
const who = () => document.body.dataset.person || "";
const place = (figure) => [figure.build, figure.key];

/** Those that lie here, as they were when they were last looked at. */
export let figures = [];
/** Whether that was ever seen: before, nobody can say that all are with the shop. */
export let known = false;
/** Why none is sent at present: "", "away" or "sign in". */
export let halted = "";
let told = () => {}, working = false, wait = AGAIN, timer = 0;

const look = async () => {
  figures = (await made()) ? await inOne(["figures"], "readonly", (store) => store.getAll()) : [];
  figures.sort((one, other) => one.at - other.at);
  known = true;
};
/** The figure of a measurement that lies here. */
export const figureOf = (build, key) => figures.find((one) => one.build === build && one.key === key);

/** Changes one that still is as it was, or leaves it. */
const settle = (figure, now) => inOne(["figures"], "readwrite", (store) => {
  const asking = store.get(place(figure));
  asking.onsuccess = () => {
    if (!asking.result) return;
    const same = asking.result.at === figure.at;
    const next = now(asking.result, same);
    if (next) store.put(next); else store.delete(place(figure));
  };
});

/** Keeps a figure: on the disk when this is done. One that waits gives way to it, and what the shop had then stays known. */
export const keepFigure = async (figure) => {
  const one = { ...figure, by: who(), at: Date.now(), state: "here" };
  await inOne(["figures"], "readwrite", (store) => {
    const asking = store.get(place(one));
    asking.onsuccess = () => store.put(asking.result && asking.result.state === "here" ? { ...one, was: asking.result.was } : one);
  });
  await look();
  told();
  send();
};
/** Gives one up. */
export const forgetFigure = async (figure) => {
  await inOne(["figures"], "readwrite", (store) => store.delete(place(figure)));
  await look();
  told();
};

/** Sends one; gives whether the next may follow. */
const sendOne = async (figure) => {
  const { text, sixteenths, units, was, same } = figure;
  let answer;
  try {
    answer = await fetch(`/builds/${figure.build}/cage/tape/${figure.key}`, {
      method: "PUT", body: JSON.stringify({ text, sixteenths, units, was, same }), credentials: "same-origin", redirect: "error",
    });
  } catch {
    halted = "away";
    return false;
  }
  if (answer.status === 401) {
    halted = "sign in";
    return false;
  }
  const said = await answer.json().catch(() => ({}));
  if (answer.ok && said.set !== undefined) {
    await settle(figure, (now, still) => still ? null : { ...now, was: said.set });
    told(figure, said.set);
  } else if (answer.status === 409) {
    await settle(figure, (now, still) => still ? { ...now, state: "differs", theirs: said.theirs } : now);
  } else if (answer.status < 500) {
    const why = said.why || "The shop did not take it.";
    await settle(figure, (now, still) => still ? { ...now, state: "refused", why } : now);
  } else {
    halted = "away";
    return false;
  }
  halted = "";
  wait = AGAIN;
  return true;
};
/** Sends what waits here, one after another. */
export const send = async () => {
  if (working || !who()) return;
  working = true;
  clearTimeout(timer);
  try {
    for (;;) {
      await look();
      const next = figures.find((one) => one.state === "here" && one.by === who());
      if (!next) break;
      told();
      if (await sendOne(next)) continue;
      timer = setTimeout(send, wait);
      wait = Math.min(wait * 2, LONGEST);
      break;
    }
  } finally {
    working = false;
  }
  await look();
  told();
};

/** How it stands, in a sentence; empty where nothing lies here. */
export const sentence = () => {
  const waiting = figures.filter((one) => one.state === "here"), held = figures.filter((one) => one.state !== "here");
  const others = waiting.find((one) => one.by !== who());
  const some = (count) => count === 1 ? "1 measurement" : `${count} measurements`;
  const words = [];
  if (waiting.length) {
    const now = halted === "away" ? "no connection, they go on by themselves" : halted === "sign in" ? "sign in, and they go on" : "sending";
    words.push(others ? `${some(waiting.length)} on this phone; those of ${others.by} wait until they sign in here.` : `${some(waiting.length)} on this phone: ${now}.`);
  }
  if (held.length) words.push(`${some(held.length)} to look at again.`);
  return words.join(" ");
};

/** Goes on with what lies here; `tell` hears of every change, and of what the shop took. */
export const begin = (tell) => {
  told = tell;
  addEventListener("online", () => { wait = AGAIN; send().catch(() => {}); });
  document.addEventListener("visibilitychange", () => { if (!document.hidden) send().catch(() => {}); });
  // without a database of its own a browser keeps nothing
  return look().then(() => { told(); return send(); }).catch(() => {});
};
