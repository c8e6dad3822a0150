// A database of this browser's own: opened when it is needed, written to the disk before it is said to be done.
const STRICT = { durability: "strict" };

/** A database of this name; `make` makes its stores. */
export const database = (name, make) => {
  let opened = null;
  const open = () => {
    if (opened) return opened;
    const opening = new Promise((done, failed) => {
      const asking = indexedDB.open(name, 1);
      asking.onupgradeneeded = () => make(asking.result);
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
          found = deed(...stores.map((store) => transaction.objectStore(store)));
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

  // Looking must not make the database: a page that is left while it is made may be put aside as it is, and no other page gets an
  // answer until the browser is started again.
  const made = async () => !indexedDB.databases || (await indexedDB.databases()).some((one) => one.name === name);

  return { open, inOne, made };
};
