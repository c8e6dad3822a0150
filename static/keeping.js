// What this phone keeps: photographs picked and not yet received by the shop, in the browser's own database.
import { database } from "./database.js";

const PART = 8 * 1024 * 1024; // bytes of one row; larger ones have failed on some phones
const { open, inOne, made } = database("tackbook", (base) => {
  base.createObjectStore("captures", { keyPath: "uuid" }).createIndex("sha256", "sha256");
  base.createObjectStore("bytes", { keyPath: ["sha256", "part"] });
});
const partsOf = (sha256) => IDBKeyRange.bound([sha256], [sha256, []]);

/** Whether this browser keeps anything at all. */
export const canKeep = async () => {
  try {
    return !await made() || Boolean(await open());
  } catch {
    return false;
  }
};

/** Keeps a photograph and what is known of it: all or nothing, and on the disk when this is done. */
export const keep = (capture, bytes) => inOne(["captures", "bytes"], "readwrite", (captures, parts) => {
  captures.put(capture);
  for (let at = 0, part = 0; at < bytes.length; at += PART, part++) {
    parts.put({ sha256: capture.sha256, part, buffer: bytes.slice(at, at + PART).buffer });
  }
});

/** Everything that is known of the photographs here, the oldest first. */
export const kept = async () => (await made() ? await inOne(["captures"], "readonly", (captures) => captures.getAll()) : [])
  .sort((one, other) => one.picked - other.picked || (one.uuid < other.uuid ? -1 : 1));

/** A photograph's bytes as they lie here. */
export const bytesOf = async (sha256) => {
  const parts = await inOne(["bytes"], "readonly", (bytes) => bytes.getAll(partsOf(sha256)));
  const whole = new Uint8Array(parts.reduce((sum, one) => sum + one.buffer.byteLength, 0));
  let at = 0;
  for (const one of parts) {
    whole.set(new Uint8Array(one.buffer), at);
    at += one.buffer.byteLength;
  }
  return whole;
};

/** Changes what is known of a photograph that is still here. */
export const change = (uuid, known) => inOne(["captures"], "readwrite", (captures) => {
  const asking = captures.get(uuid);
  asking.onsuccess = () => { if (asking.result) captures.put({ ...asking.result, ...known }); };
});

/** Forgets a photograph; its bytes go with the last that has the same content. */
export const forget = (uuid, sha256) => inOne(["captures", "bytes"], "readwrite", (captures, bytes) => {
  captures.delete(uuid);
  const others = captures.index("sha256").count(sha256);
  others.onsuccess = () => { if (others.result === 0) bytes.delete(partsOf(sha256)); };
});
