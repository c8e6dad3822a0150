// The weld log's lines that this phone keeps until the shop has them. They go on by themselves, on every sheet. Each has a name
// of its own, so that the shop writes it once however often it is told.
import { database } from "./database.js";

const AGAIN = 5000, LONGEST = 60000; // milliseconds until it is tried again: the first time, at most
const { inOne, made } = database("tackbook welds", (base) => base.createObjectStore("lines", { keyPath: "id" }));
const who = () => document.body.dataset.person || "";

/** Those that lie here, as they were when they were last looked at. */
export let lines = [];
/** Why none is sent at present: "", "away" or "sign in". */
export let halted = "";
let told = () => {}, working = null, wait = AGAIN, timer = 0;

const look = async () => {
  lines = (await made()) ? await inOne(["lines"], "readonly", (store) => store.getAll()) : [];
  lines.sort((one, other) => one.at - other.at);
};
/** Those of a joint. */
export const linesOf = (build, joint) => lines.filter((one) => one.build === build && one.joint === joint);
const valueOf = (line, name) => (line.pairs.find((pair) => pair[0] === name) || ["", ""])[1];

/** A name that nobody else gives (RFC 9562, version 4); on plain http the browser makes none itself. */
const newName = () => {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
};

/** Keeps a line: on the disk when this is done. Gives its name. */
export const keepLine = async (build, joint, pairs) => {
  const line = { id: newName(), build, joint, pairs, by: who(), at: Date.now(), state: "here" };
  await inOne(["lines"], "readwrite", (store) => store.put(line));
  await look();
  told();
  return line.id;
};
/** Gives one up. */
export const forgetLine = async (id) => {
  await inOne(["lines"], "readwrite", (store) => store.delete(id));
  await look();
  told();
};
const mark = (line, state, why) => inOne(["lines"], "readwrite", (store) => {
  const asking = store.get(line.id);
  // another tab may have had it taken meanwhile
  asking.onsuccess = () => { if (asking.result) store.put({ ...asking.result, state, why }); };
});
/** The shop has it: those written after it on this phone, of the same joint, know of it. */
const taken = (line, number) => inOne(["lines"], "readwrite", (store) => {
  const seen = valueOf(line, "seen"), asking = store.getAll();
  asking.onsuccess = () => {
    for (const one of asking.result) {
      if (one.build !== line.build || one.joint !== line.joint || one.at < line.at || valueOf(one, "seen") !== seen) continue;
      store.put({ ...one, pairs: one.pairs.map((pair) => pair[0] === "seen" ? ["seen", String(number)] : pair) });
    }
    store.delete(line.id);
  };
});

/** Sends one; gives whether the next may follow. */
const sendOne = async (line) => {
  let answer;
  try {
    answer = await fetch(`/builds/${line.build}/welds/told/${line.id}`, {
      method: "PUT", body: new URLSearchParams(line.pairs), credentials: "same-origin", redirect: "error", signal: AbortSignal.timeout(20000),
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
  if (answer.ok && said.line !== undefined) {
    await taken(line, said.line);
  } else if (answer.status === 409) {
    await mark(line, "differs", `Somebody else wrote of ${line.joint} meanwhile: look at its lines.`);
  } else if (answer.status < 500) {
    await mark(line, "refused", said.why || "The shop did not take it.");
  } else {
    halted = "away";
    return false;
  }
  halted = "";
  wait = AGAIN;
  return true;
};
const sendAll = async () => {
  clearTimeout(timer);
  for (;;) {
    await look();
    const next = lines.find((one) => one.state === "here" && one.by === who());
    if (!next) break;
    told();
    if (await sendOne(next)) continue;
    timer = setTimeout(send, wait);
    wait = Math.min(wait * 2, LONGEST);
    break;
  }
  await look();
  told();
};
/** Sends what waits here, one after another; done when nothing waits or nobody answers. */
export const send = async () => {
  if (!who()) return;
  if (working) await working;
  working = sendAll().finally(() => { working = null; });
  await working;
};

/** How it stands, in a sentence; empty where nothing lies here. */
export const sentence = () => {
  const waiting = lines.filter((one) => one.state === "here"), held = lines.filter((one) => one.state !== "here");
  const others = waiting.find((one) => one.by !== who());
  const some = (count) => count === 1 ? "1 weld line" : `${count} weld lines`;
  const words = [];
  if (waiting.length) {
    const one = waiting.length === 1;
    const now = halted === "away" ? `no connection, ${one ? "it goes on by itself" : "they go on by themselves"}`
      : halted === "sign in" ? `sign in, and ${one ? "it goes" : "they go"} on` : "sending";
    words.push(others ? `${some(waiting.length)} on this phone; those of ${others.by} wait until they sign in here.` : `${some(waiting.length)} on this phone: ${now}.`);
  }
  if (held.length) words.push(`${some(held.length)} to look at again, at ${held.map((one) => one.joint).join(", ")}.`);
  return words.join(" ");
};

/** Goes on with what lies here; `tell` hears of every change. */
export const begin = (tell) => {
  told = tell;
  addEventListener("online", () => { wait = AGAIN; send().catch(() => {}); });
  document.addEventListener("visibilitychange", () => { if (!document.hidden) send().catch(() => {}); });
  // without a database of its own a browser keeps nothing
  return look().then(() => { told(); return send(); }).catch(() => {});
};
