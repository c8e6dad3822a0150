// The walks that this phone keeps, so that one can go on without a network: what is asked for, and nothing else of a build.
// Only of whoever is signed in; emptied when somebody signs out. The photographs lie elsewhere, in keeping.js.
const NAME = "tackbook walks";

const open = () => new Promise((done, failed) => {
  const asking = indexedDB.open(NAME, 1);
  asking.onupgradeneeded = () => asking.result.createObjectStore("walks", { keyPath: "build" });
  asking.onsuccess = () => {
    asking.result.onversionchange = () => asking.result.close();
    done(asking.result);
  };
  asking.onerror = () => failed(asking.error);
});
const inOne = async (mode, deed) => {
  const base = await open();
  try {
    return await new Promise((done, failed) => {
      const transaction = base.transaction("walks", mode);
      const found = deed(transaction.objectStore("walks"));
      transaction.oncomplete = () => done(found.result);
      transaction.onabort = () => failed(transaction.error);
    });
  } finally {
    base.close();
  }
};

/** The build of a walk's address; empty for any other address. */
export const buildOf = (path) => (/^\/builds\/([^/]+)\/walk$/.exec(path) || ["", ""])[1];

/** All that are kept. */
export const walks = () => inOne("readonly", (store) => store.getAll());

/** The one of a build; nothing where it is not kept. */
export const walkOf = (build) => inOne("readonly", (store) => store.get(build));

/** Asks the shop for a build's walk and keeps it for this person. */
export const keepWalk = async (build, person) => {
  const answer = await fetch(`/builds/${build}/walk.json`, { credentials: "same-origin", redirect: "error" });
  if (!answer.ok) return;
  const walk = await answer.json();
  await inOne("readwrite", (store) => store.put({ ...walk, build, person, fetched: Date.now() }));
};

/** Forgets every walk. */
export const forgetWalks = () => new Promise((done) => {
  const asking = indexedDB.deleteDatabase(NAME);
  // another tab lets go of it by itself, a moment later
  asking.onsuccess = asking.onerror = asking.onblocked = () => done();
});

/** Forgets the walks when they are another's. */
export const onlyOf = async (person) => {
  if ((await walks()).some((walk) => walk.person !== person)) await forgetWalks();
};
