// The sheet that opens while the shop cannot be reached: the walk of its address where this phone keeps it, else those it keeps.
import { buildOf, walks } from "./walks.js";

const kept = await walks().catch(() => []);
// who was signed in when they were kept; somebody else's photographs never go out under this name
if (kept.length) document.body.dataset.person = kept[0].person;
// these look at who is signed in as soon as they are there
await import("./photos.js");
const { drawHere } = await import("./walking.js");
const drawn = buildOf(location.pathname) && await drawHere(location.href);
if (!drawn) {
  const list = document.querySelector("[data-walks]");
  for (const walk of kept) {
    const link = document.createElement("a");
    link.href = `/builds/${walk.build}/walk`;
    link.className = "button";
    link.textContent = `Walk round ${walk.name}`;
    const line = document.createElement("p");
    line.append(link);
    list.append(line);
  }
  list.hidden = kept.length === 0;
}
addEventListener("online", () => { document.querySelector("[data-again]")?.removeAttribute("hidden"); });
