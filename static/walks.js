// The walks that this phone keeps, so that one can go on without a network: what is asked for, and nothing else of a build.
// Only of whoever is signed in; emptied when somebody signs out. The photographs lie elsewhere, in keeping.js.
// In the browser's cache and not in a database: one that is being made while its page is left answers nobody any more.
// On plain http there is no such cache; then a walk is kept for as long as its page is open.
const NAME = "tackbook walks";
const store = window.caches;
const held = new Map();

/** The build of a photograph walk's address, of a weld walk's and of a tape walk's; empty for any other address. */
export const buildOf = (path) => (/^\/builds\/([^/]+)\/walk$/.exec(path) || ["", ""])[1];
export const weldsOf = (path) => (/^\/builds\/([^/]+)\/welds\/walk$/.exec(path) || ["", ""])[1];
export const tapeOf = (path) => (/^\/builds\/([^/]+)\/cage\/tape$/.exec(path) || ["", ""])[1];

// A walk is that of the photographs, of the tape or of the welds.
const ENDS = { walk: "/walk", tape: "/cage/tape", weld: "/welds/walk" };
const addressOf = (build, kind) => `/builds/${build}${ENDS[kind]}.json`;
const drawingsOf = (build, kind) => `/builds/${build}${ENDS[kind]}-drawings.json`;
const drawn = new Map();
const asked = async (address) => {
  const answer = await fetch(address, { credentials: "same-origin", redirect: "error" });
  return answer.ok ? answer.json() : null;
};
const put = async (address, what) => { if (store) await (await store.open(NAME)).put(address, new Response(JSON.stringify(what))); };

/** All of a kind that are kept. */
export const walks = async (kind = "walk") => {
  if (!store || !(await store.has(NAME))) return [...held.values()].filter((walk) => walk.kind === kind);
  const cache = await store.open(NAME);
  const names = (await cache.keys()).filter((request) => request.url.endsWith(`${ENDS[kind]}.json`));
  const kept = await Promise.all(names.map((request) => cache.match(request)));
  // another tab may have forgotten them meanwhile; the weld walk's address ends as the photographs' does
  return (await Promise.all(kept.filter(Boolean).map((answer) => answer.json()))).filter((walk) => walk.kind === kind);
};

/** The drawings of a build's parts, as they are kept; nothing where they are not. */
const drawings = async (build, kind) => {
  const address = drawingsOf(build, kind);
  if (drawn.has(address)) return drawn.get(address);
  const answer = store && (await store.has(NAME)) && await (await store.open(NAME)).match(address);
  if (answer) drawn.set(address, await answer.json());
  return drawn.get(address) || null;
};
/** Where a part or a measurement is, as SVG text; nothing where this phone does not keep it. */
export const whereIs = async (build, name, kind = "walk") => (await drawings(build, kind))?.of[name];

/** The one of a build; nothing where it is not kept. */
export const walkOf = async (build, kind = "walk") =>
  held.get(addressOf(build, kind)) || (await walks(kind)).find((walk) => walk.build === build);

/** Asks the shop for a build's walk and keeps it for this person; its drawings only where they are others than those kept. */
export const keepWalk = async (build, person, kind = "walk") => {
  const list = await asked(addressOf(build, kind));
  if (!list) return;
  const walk = { ...list, kind, build, person, fetched: Date.now() };
  held.set(addressOf(build, kind), walk);
  await put(addressOf(build, kind), walk);
  if (!walk.drawings || (await drawings(build, kind))?.drawings === walk.drawings) return;
  const fresh = await asked(drawingsOf(build, kind));
  if (!fresh) return;
  drawn.set(drawingsOf(build, kind), fresh);
  await put(drawingsOf(build, kind), fresh);
};

/** Keeps a walk as it was changed here since. */
export const keepAs = (walk) => put(addressOf(walk.build, walk.kind), walk);

/** Forgets every walk. */
export const forgetWalks = async () => {
  held.clear();
  drawn.clear();
  if (store) await store.delete(NAME);
};

/** Forgets the walks when they are another's. */
export const onlyOf = async (person) => {
  const kept = [...await walks(), ...await walks("tape"), ...await walks("weld")];
  if (kept.some((walk) => walk.person !== person)) await forgetWalks();
};
