// Sends what this phone keeps: first it tells of all, then the bytes go in parts, two photographs at once, again after a cut, forgotten only after the receipt.
import { bytesOf, change, forget, kept } from "./keeping.js";
import { sha256 } from "./sha256.js";
import { turns } from "./turn.js";

const KIB = 1024;
const LEAST = 256 * KIB, FIRST = 512 * KIB, MOST = 4096 * KIB;
const NO_CONNECTION = "No connection to the shop; it goes on by itself.";
const AT_ONCE = 2, PATIENCE = 45000, CONFLICTS = 5;
/** Who is signed in on this page; nobody's photographs go out under another's name. */
const who = document.body.dataset.person || "";
/** What this page knows of, the oldest first. */
export const all = [];
const inTurn = turns("tackbook sending");
let chunk = FIRST, timers = [], busy = 0, fill = null, asked = false, shown = () => {};

const channel = window.BroadcastChannel ? new BroadcastChannel("tackbook queue") : { postMessage: () => {} };
channel.onmessage = ({ data }) => {
  if (data.kept) settle(all.find((one) => one.uuid === data.kept), data.why);
  if (data.hurry) all.forEach((one) => { one.until = 0; });
  refresh().then(work, () => {});
};
const changed = (what) => channel.postMessage(what || {});

/** Those that lie on this phone, that the shop has not received and may still take. */
export const unsent = () => all.filter((one) => one.state === "waiting" || one.state === "sending");
/** Whether a photograph is this person's. */
export const mine = (one) => !one.by || one.by === who;

const settle = (one, why) => {
  if (!one || one.state === "kept") return;
  Object.assign(one, { state: "kept", sent: one.size, why: why || "" });
  shown(one);
};
const drop = (one) => {
  one.state = "dropped";
  all.splice(all.indexOf(one), 1);
  shown(one);
};
const known = (capture) => ({
  ...capture, state: capture.state === "refused" ? "refused" : "waiting", told: capture.state === "told",
  why: capture.why || "", sent: 0, wait: 1000, until: 0, altered: 0, busy: false,
});

/** Looks at what lies on the phone; other tabs add and send too. */
export const refresh = async () => {
  // what is kept while this reads is not among what it reads
  const before = all.filter((one) => one.state === "waiting" || one.state === "refused");
  const here = await kept();
  for (const capture of here) {
    if (all.some((one) => one.uuid === capture.uuid)) continue;
    all.push(known(capture));
    shown(all.at(-1));
  }
  const gone = (one) => !one.busy && !here.some((capture) => capture.uuid === one.uuid);
  for (const one of before.filter(gone)) {
    if (one.state === "refused") drop(one);
    else settle(one);
  }
};

/** Takes up a photograph that has just been kept. */
export const take = (one) => {
  Object.assign(one, known(one));
  shown(one);
  changed();
  work();
};

const next = () => all.find((one) => one.state === "waiting" && !one.busy && one.until <= Date.now() && mine(one));
const sendAll = () => new Promise((done) => {
  fill = () => {
    for (let one = next(); one && busy < AT_ONCE; one = next()) {
      one.busy = true;
      busy++;
      send(one).finally(() => {
        one.busy = false;
        busy--;
        fill();
      });
    }
    if (busy) return;
    fill = null;
    done();
  };
  fill();
});

/** Sends what is due, when it is this tab's turn. */
export const work = async () => {
  if (fill) return fill();
  if (asked || !who || !next()) return;
  asked = true;
  try {
    await inTurn(async () => {
      await refresh();
      await tellOfAll();
      await sendAll();
    });
  } catch (error) {
    timers.push(setTimeout(work, 5000));
    return;
  } finally {
    asked = false;
  }
  work();
};

const ask = async (one, method, last, headers, body) => {
  const stop = new AbortController(), clock = setTimeout(() => stop.abort(), PATIENCE);
  try {
    const asking = { method, headers, body, signal: stop.signal, credentials: "same-origin", redirect: "error" };
    return await fetch(`/builds/${one.build}${last}`, asking);
  } finally {
    clearTimeout(clock);
  }
};
const later = (one, why, least) => {
  const wait = Math.max(least || 0, one.wait * (0.5 + Math.random()));
  Object.assign(one, { state: "waiting", why, wait: Math.min(60000, one.wait * 2), until: Date.now() + wait });
  timers.push(setTimeout(work, wait + 20));
  shown(one);
};
const received = async (one, answer) => {
  const told = await answer.json();
  const receipt = told.receipt || told;
  if (receipt.sha256 !== one.sha256) return later(one, "The shop's receipt names another photo; this one stays here.");
  await forget(one.uuid, one.sha256);
  const why = (receipt.remarks || []).join(" ");
  settle(one, why);
  changed({ kept: one.uuid, why });
};
const refused = async (one, why) => {
  Object.assign(one, { state: "refused", why });
  await change(one.uuid, { state: "refused", why });
  shown(one);
  changed();
};
const said = async (answer) => (await answer.json().catch(() => ({}))).detail || "The shop did not take it.";
const offsetOf = (answer) => Number(answer.headers.get("Upload-Offset"));

// Gives true when the rest has to wait.
const waits = async (one, answer) => {
  if (answer.status === 401) {
    one.signIn = true;
    later(one, "Nobody is signed in any more: sign in, and it goes on by itself.");
    return true;
  }
  one.signIn = false;
  if (answer.status === 429) later(one, await said(answer), 1000 * Number(answer.headers.get("Retry-After")));
  else if (answer.status === 507) later(one, "The shop's disk is full; the photos stay here.");
  else if (answer.status === 408 || answer.status >= 500) later(one, "The shop is busy; it goes on by itself.");
  else return false;
  return true;
};

/** A photograph's bytes as they lie here; none where they are not the ones that were picked. */
const sound = async (one) => {
  const bytes = await bytesOf(one.sha256);
  if (await sha256(bytes) === one.sha256) return bytes;
  // a disk that altered it must not pass for the photograph; where it is gone, another tab had it received
  if ((await kept()).some((here) => here.uuid === one.uuid)) await refused(one, "The copy on this phone is damaged. Take the photo again.");
  else settle(one);
  return null;
};
/** Tells the shop that a photograph exists on this phone; gives whether its bytes may go now. */
const tellOf = async (one) => {
  const told = {
    sha256: one.sha256, size: one.size, type: one.type, shot: one.shot, note: one.note, taken: one.taken,
    camera_size: one.camera_size,
  };
  const answer = await ask(one, "PUT", `/captures/${one.uuid}`, { "Content-Type": "application/json" }, JSON.stringify(told));
  if (await waits(one, answer)) return false;
  if (!answer.ok) {
    await refused(one, await said(answer));
    return false;
  }
  if (answer.headers.get("Upload-Complete") === "?1") {
    await received(one, answer);
    return false;
  }
  if (!one.told) await change(one.uuid, { state: "told" });
  one.told = true;
  one.sent = offsetOf(answer);
  return true;
};
/** Tells of all before any bytes go: the office knows of a photograph also when the phone is lost. */
const tellOfAll = async () => {
  for (const one of all.filter((one) => one.state === "waiting" && !one.told && !one.busy && one.until <= Date.now() && mine(one))) {
    one.busy = true;
    try {
      if (!(await sound(one))) continue;
      // when the shop does not answer for one, it does not for the others either
      if (!(await tellOf(one)) && one.state === "waiting") return;
      one.fresh = one.state === "waiting";
    } catch (error) {
      return later(one, NO_CONNECTION);
    } finally {
      one.busy = false;
    }
  }
};

const send = async (one) => {
  try {
    one.state = "sending";
    shown(one);
    // what was looked at before it was told of is looked at again by the shop, at its end
    const bytes = one.fresh ? await bytesOf(one.sha256) : await sound(one);
    if (!bytes) return;
    if (bytes.length !== one.size) {
      one.fresh = false;
      return later(one, "The phone could not read it just now; it goes on by itself.");
    }
    if (!one.fresh && !(await tellOf(one))) return;
    one.fresh = false;
    for (let conflicts = 0, answer; ;) {
      const from = one.sent, to = Math.min(one.size, from + chunk), last = to === one.size;
      const began = Date.now();
      answer = await ask(one, "PATCH", `/uploads/${one.sha256}`, {
        "Content-Type": "application/partial-upload", "Upload-Offset": String(from), "Upload-Complete": last ? "?1" : "?0",
      }, bytes.subarray(from, to));
      if (await waits(one, answer)) return;
      if (answer.status === 200) return await received(one, answer);
      if (answer.status === 422) {
        one.sent = 0;
        if (++one.altered < 2) continue;
        return later(one, "It arrived altered, twice; it goes on by itself.");
      }
      if (answer.status === 409 && ++conflicts > CONFLICTS) return later(one, "Another page sends it too; it goes on by itself.");
      if (answer.status !== 409 && !(answer.ok && !last)) return await refused(one, await said(answer));
      one.sent = offsetOf(answer);
      one.wait = 1000;
      one.why = "";
      if (answer.ok && Date.now() - began < 4000) chunk = Math.min(MOST, chunk * 2);
      shown(one);
    }
  } catch (error) {
    chunk = Math.max(LEAST, chunk / 2);
    later(one, NO_CONNECTION);
  }
};

/** Gives up a photograph that the shop did not take. */
export const giveUp = async (one) => {
  await forget(one.uuid, one.sha256);
  drop(one);
  changed();
};

/** Sends under this person's name what somebody else left on the phone; the note says whose it was. */
export const takeOver = async () => {
  for (const one of unsent().filter((one) => !mine(one))) {
    const note = `${one.note} (Left on the phone by ${one.by}.)`.trim();
    await change(one.uuid, { by: who, note });
    Object.assign(one, { by: who, note });
    shown(one);
  }
  changed();
  work();
};

/** Sends at once what was waiting for its next try. */
export const hurry = () => {
  timers.forEach(clearTimeout);
  timers = [];
  all.forEach((one) => Object.assign(one, { until: 0, wait: 1000 }));
  refresh().then(work, work);
};

/** Goes on with what lies here; `tell` hears of every change to a photograph. */
export const begin = (tell) => {
  shown = tell;
  addEventListener("online", hurry);
  addEventListener("pageshow", (back) => { if (back.persisted) hurry(); });
  document.addEventListener("visibilitychange", () => { if (!document.hidden) hurry(); });
  // other tabs may have waited for somebody to sign in
  if (who) changed({ hurry: true });
  refresh().then(work, work);
};
