// What the shop said of a photograph that went while one walked on: over the walk, until one of its two buttons is touched.
import { make } from "./drawn.js";
import { keepSaid } from "./said.js";

const spot = () => document.querySelector("[data-remark]");
let shown = null;

/** Shows what was said of a photograph; the newest one stays. */
export const remark = (one) => {
  if (!spot()) return;
  const again = make("a", { class: "button shot-again", href: `/builds/${one.build}/walk?shot=${encodeURIComponent(one.shot)}`, "data-walk": "" }, "Take again");
  const keep = make("button", { type: "button" }, one.state === "refused" ? "Leave it" : "Keep it so");
  const gone = () => { shown = null; spot()?.replaceChildren(); };
  keep.onclick = () => {
    // what this phone cannot keep is not said to be kept: the remark stays
    if (one.state === "refused") gone(); else keepSaid({ build: one.build, capture: one.uuid, keep: true }).then(gone, () => {});
  };
  again.addEventListener("click", gone);
  const picture = one.url ? [make("img", { src: one.url, alt: "The photograph", width: "104", height: "104" })] : [make("span")];
  shown = make("section", { class: "walk-remark shot-remark", "aria-label": "A photograph to look at" }, ...picture,
    make("div", {}, make("p", { role: "alert" }, make("b", { class: "shot-sign" }, one.shot.split(" ")[0] || "Photo"), ` ${one.why}`)),
    make("div", { class: "walk-two" }, ...(one.shot ? [again] : []), keep));
  spot().replaceChildren(shown);
};
/** Whether one waits for an answer: then the walk goes on without a new page. */
export const remarked = () => Boolean(shown);
/** Puts it on the sheet that came since. */
export const keepRemark = () => { if (shown && spot() && !shown.isConnected) spot().replaceChildren(shown); };
// One that the shop drew is answered from here too, so that it goes on without a network.
document.addEventListener("submit", (sent) => {
  const form = sent.target;
  if (!form.matches("form[data-said]") || form.dataset.plain) return;
  sent.preventDefault();
  keepSaid({ build: form.dataset.said, capture: form.elements.capture.value, keep: true })
    .then(() => spot()?.replaceChildren(), () => { form.dataset.plain = "yes"; form.requestSubmit(); });
});
