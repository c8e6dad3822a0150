// Looks at what this phone's browser can do, and says yes or no beside each line.
import { canKeep, kept } from "./keeping.js";

const MB = 1000000;
const can = {
  keeps: canKeep,
  https: () => isSecureContext,
  stays: () => navigator.storage?.persisted && navigator.storage.persisted(),
  hash: () => crypto.subtle,
  locks: () => navigator.locks,
  awake: () => navigator.wakeLock,
  offline: () => isSecureContext && navigator.serviceWorker
    && Promise.race([navigator.serviceWorker.ready, new Promise((done) => setTimeout(done, 10000, false))]),
};
const tell = (name, words) => { document.querySelector(`[data-told=${name}]`).textContent = words; };

const answer = (place, yes) => {
  place.textContent = yes ? "yes" : "no";
  place.closest("div").querySelector("dd").hidden = Boolean(yes);
};
for (const place of document.querySelectorAll("[data-can]")) {
  Promise.resolve(can[place.dataset.can]()).then((yes) => answer(place, yes), () => answer(place, false));
}
kept().then(
  (all) => tell("here", `${all.length} on this phone, ${(all.reduce((sum, one) => sum + one.size, 0) / MB).toFixed(1)} MB`),
  () => tell("here", "Nothing is kept here"),
);
if (navigator.storage?.estimate) {
  navigator.storage.estimate().then(({ quota, usage }) => tell("room", `The browser gives this shop ${Math.floor((quota - usage) / MB)} MB more.`), () => {});
}
