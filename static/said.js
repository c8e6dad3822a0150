// What was said of photographs on this phone, kept so or seen: here until the shop has it, told after the photograph itself.
import { database } from "./database.js";
import { kept } from "./keeping.js";
import { turns } from "./turn.js";

const AGAIN = 5000, LONGEST = 60000; // milliseconds until it is tried again: the first time, at most
const { inOne, made } = database("tackbook said", (base) => base.createObjectStore("said", { keyPath: "at", autoIncrement: true }));
// a turn of its own: a tab that tells while it sends must not give up the sending's
const inTurn = turns("tackbook saying");
const who = document.body.dataset.person || "";
let working = false, wait = AGAIN, timer = 0;

const here = async () => (await made()) ? inOne(["said"], "readonly", (store) => store.getAll()) : [];
const forget = (one) => inOne(["said"], "readwrite", (store) => { store.delete(one.at); });

/** Tells one; gives whether the next may follow. */
const tellOne = async (one) => {
  const answer = await fetch(`/builds/${one.build}/walk/said`, {
    method: "PUT", body: JSON.stringify({ capture: one.capture, keep: one.keep, seen: one.seen }), credentials: "same-origin", redirect: "error",
  }).catch(() => null);
  if (!answer || answer.status === 401 || answer.status === 408 || answer.status === 429 || answer.status >= 500) return false;
  // what the shop does not know of or does not take is not asked again
  await forget(one);
  wait = AGAIN;
  return true;
};
/** Tells what waits here, of photographs that the shop has. */
export const tellSaid = async () => {
  if (working || !who) return;
  working = true;
  clearTimeout(timer);
  try {
    await inTurn(async () => {
      const mine = (await here()).filter((one) => one.by === who);
      const photos = mine.length ? await kept() : [];
      const waiting = mine.filter((one) => !photos.some((photo) => photo.uuid === one.capture));
      for (const one of waiting) {
        if (await tellOne(one)) continue;
        timer = setTimeout(tellSaid, wait);
        wait = Math.min(wait * 2, LONGEST);
        return;
      }
    });
  } catch {
    timer = setTimeout(tellSaid, wait);
  } finally {
    working = false;
  }
};
/** Keeps what was said of a photograph; on the disk when this is done. */
export const keepSaid = async (said) => {
  await inOne(["said"], "readwrite", (store) => { store.put({ keep: false, seen: [], ...said, by: who }); });
  tellSaid();
};
/** Goes on with what lies here. */
export const beginSaid = () => {
  addEventListener("online", () => { wait = AGAIN; tellSaid(); });
  document.addEventListener("visibilitychange", () => { if (!document.hidden) tellSaid(); });
  tellSaid();
};
