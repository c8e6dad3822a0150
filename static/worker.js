// Keeps the shop's shell on this phone: styles, scripts, fonts, and one sheet without anything of a build. The program puts
// VERSION and SHELL before this: what is in the shell, and a name that changes with it.
const CACHE = `tackbook shell ${VERSION}`;
const SHEET = "/offline", TAPE = "/offline/tape", WELDS = "/offline/welds";
// A network that neither answers nor breaks: the walk does not wait longer for it, milliseconds.
const PATIENCE = 8000;

self.addEventListener("install", (event) => {
  self.skipWaiting();
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(SHELL.map((path) => new Request(path, { cache: "no-cache" })))));
});
self.addEventListener("activate", (event) => {
  const tidy = async () => {
    const old = (await caches.keys()).filter((name) => name.startsWith("tackbook shell ") && name !== CACHE);
    await Promise.all(old.map((name) => caches.delete(name)));
    await self.clients.claim();
  };
  event.waitUntil(tidy());
});

self.addEventListener("message", (event) => {
  if (event.data === "take me") event.waitUntil(self.clients.claim());
});

const ofShell = async (path) => (await (await caches.open(CACHE)).match(path)) || Response.error();
const sheet = async (request, path) => {
  const coming = fetch(request);
  const tape = /^\/builds\/[^/]+\/cage\/tape$/.test(path);
  const welds = /^\/builds\/[^/]+\/welds\/walk$/.test(path);
  const walk = tape || welds || /^\/builds\/[^/]+\/walk$/.test(path);
  const late = new Promise((_, failed) => { if (walk) setTimeout(() => failed(new Error("late")), PATIENCE); });
  try {
    return await Promise.race([coming, late]);
  } catch (error) {
    // what comes after all is not needed any more
    coming.catch(() => {});
    return ofShell(tape ? TAPE : welds ? WELDS : SHEET);
  }
};
const part = async (request, path) => {
  try {
    return await fetch(request);
  } catch (error) {
    return ofShell(path);
  }
};
self.addEventListener("fetch", (event) => {
  const { request } = event, to = new URL(request.url);
  if (request.method !== "GET" || to.origin !== location.origin) return;
  if (request.mode === "navigate") event.respondWith(sheet(request, to.pathname));
  else if (SHELL.includes(to.pathname)) event.respondWith(part(request, to.pathname));
});
