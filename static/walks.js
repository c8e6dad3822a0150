// The walks that this phone keeps, so that one can go on without a network: what is asked for, and nothing else of a build.
// Only of whoever is signed in; emptied when somebody signs out. The photographs lie elsewhere, in keeping.js.
// In the browser's cache and not in a database: one that is being made while its page is left answers nobody any more.
// On plain http there is no such cache; then a walk is kept for as long as its page is open.
const NAME = "tackbook walks";
const store = window.caches;
const held = new Map();

/** The build of a walk's address; empty for any other address. */
export const buildOf = (path) => (/^\/builds\/([^/]+)\/walk$/.exec(path) || ["", ""])[1];

/** All that are kept. */
export const walks = async () => {
  if (!store || !(await store.has(NAME))) return [...held.values()];
  const cache = await store.open(NAME);
  const kept = await Promise.all((await cache.keys()).map((request) => cache.match(request)));
  // another tab may have forgotten them meanwhile
  return Promise.all(kept.filter(Boolean).map((answer) => answer.json()));
};

/** The one of a build; nothing where it is not kept. */
export const walkOf = async (build) => held.get(build) || (await walks()).find((walk) => walk.build === build);

/** Asks the shop for a build's walk and keeps it for this person. */
export const keepWalk = async (build, person) => {
  const address = `/builds/${build}/walk.json`;
  const answer = await fetch(address, { credentials: "same-origin", redirect: "error" });
  if (!answer.ok) return;
  const walk = { ...(await answer.json()), build, person, fetched: Date.now() };
  held.set(build, walk);
  if (store) await (await store.open(NAME)).put(address, new Response(JSON.stringify(walk)));
};

/** Forgets every walk. */
export const forgetWalks = async () => {
  held.clear();
  if (store) await store.delete(NAME);
};

/** Forgets the walks when they are another's. */
export const onlyOf = async (person) => {
  if ((await walks()).some((walk) => walk.person !== person)) await forgetWalks();
};
