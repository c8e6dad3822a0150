// The walks that this phone keeps, so that one can go on without a network: what is asked for, and nothing else of a build.
// Only of whoever is signed in; emptied when somebody signs out. The photographs lie elsewhere, in keeping.js.
// In the browser's cache and not in a database: one that is being made while its page is left answers nobody any more.
// On plain http there is no such cache; then a walk is kept for as long as its page is open.
const NAME = "tackbook walks";
const store = window.caches;
const held = new Map();

/** The build of a walk's address; empty for any other address. */
export const buildOf = (path) => (/^\/builds\/([^/]+)\/walk$/.exec(path) || ["", ""])[1];

const addressOf = (build) => `/builds/${build}/walk.json`;
const drawingsOf = (build) => `/builds/${build}/walk-drawings.json`;
const drawn = new Map();
const asked = async (address) => {
  const answer = await fetch(address, { credentials: "same-origin", redirect: "error" });
  return answer.ok ? answer.json() : null;
};
const put = async (address, what) => { if (store) await (await store.open(NAME)).put(address, new Response(JSON.stringify(what))); };

/** All that are kept. */
export const walks = async () => {
  if (!store || !(await store.has(NAME))) return [...held.values()];
  const cache = await store.open(NAME);
  const names = (await cache.keys()).filter((request) => request.url.endsWith("/walk.json"));
  const kept = await Promise.all(names.map((request) => cache.match(request)));
  // another tab may have forgotten them meanwhile
  return Promise.all(kept.filter(Boolean).map((answer) => answer.json()));
};

/** The drawings of a build's parts, as they are kept; nothing where they are not. */
const drawings = async (build) => {
  if (drawn.has(build)) return drawn.get(build);
  const answer = store && (await store.has(NAME)) && await (await store.open(NAME)).match(drawingsOf(build));
  return answer ? answer.json() : null;
};
/** Where a part is, as SVG text; nothing where this phone does not keep it. */
export const whereIs = async (build, balloon) => (await drawings(build))?.of[balloon];

/** The one of a build; nothing where it is not kept. */
export const walkOf = async (build) => held.get(build) || (await walks()).find((walk) => walk.build === build);

/** Asks the shop for a build's walk and keeps it for this person; its drawings only where they are others than those kept. */
export const keepWalk = async (build, person) => {
  const list = await asked(addressOf(build));
  if (!list) return;
  const walk = { ...list, build, person, fetched: Date.now() };
  held.set(build, walk);
  await put(addressOf(build), walk);
  if (!walk.drawings || (await drawings(build))?.drawings === walk.drawings) return;
  const fresh = await asked(drawingsOf(build));
  if (!fresh) return;
  drawn.set(build, fresh);
  await put(drawingsOf(build), fresh);
};

/** Forgets every walk. */
export const forgetWalks = async () => {
  held.clear();
  drawn.clear();
  if (store) await store.delete(NAME);
};

/** Forgets the walks when they are another's. */
export const onlyOf = async (person) => {
  if ((await walks()).some((walk) => walk.person !== person)) await forgetWalks();
};
