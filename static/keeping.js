// What this phone keeps: photographs picked and not yet received by the shop, in the browser's own database.
const PART = 8 * 1024 * 1024; // bytes of one row; larger ones have failed on some phones
const STRICT = { durability: "strict" };
let opened = null;

const open = () => {
  if (opened) return opened;
  const opening = new Promise((done, failed) => {
    const asking = indexedDB.open("tackbook", 1);
    asking.onupgradeneeded = () => {
      asking.result.createObjectStore("captures", { keyPath: "uuid" }).createIndex("sha256", "sha256");
      asking.result.createObjectStore("bytes", { keyPath: ["sha256", "part"] });
    };
    asking.onsuccess = () => {
      const base = asking.result;
      base.onclose = () => { opened = null; };
      base.onversionchange = () => { opened = null; base.close(); };
      done(base);
    };
    asking.onerror = () => failed(asking.error);
  });
  opening.catch(() => { opened = null; });
  opened = opening;
  return opening;
};

/** Does something in one transaction; it is done when the browser says that all of it is. */
const inOne = async (stores, mode, deed) => {
  // phones drop the connection of a page that slept; then it is opened once more
  for (let again = true; ; again = false) {
    const base = await open();
    try {
      const transaction = base.transaction(stores, mode, mode === "readwrite" ? STRICT : {});
      const over = new Promise((done, failed) => {
        transaction.oncomplete = done;
        transaction.onabort = () => failed(transaction.error || new DOMException("It was given up.", "AbortError"));
      });
      let found;
      try {
        found = deed(...stores.map((name) => transaction.objectStore(name)));
      } catch (error) {
        transaction.abort();
        await over.catch(() => {});
        throw error;
      }
      await over;
      return found && found.result;
    } catch (error) {
      if (!again || error.name !== "InvalidStateError") throw error;
      opened = null;
    }
  }
};
const partsOf = (sha256) => IDBKeyRange.bound([sha256], [sha256, []]);

// Looking must not make the database: a page that is left while it is made may be put aside as it is, and no other page gets an
// answer until the browser is started again.
const made = async () => !indexedDB.databases || (await indexedDB.databases()).some((one) => one.name === "tackbook");

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
