// The sum, the shares and the class follow what is typed; the shop works them out, and records nothing by it.
import { follow } from "./live.js";

const form = document.querySelector("form[data-live-at]");
/** A figure that says its own unit needs none behind it. */
const units = () => {
  for (const box of form.querySelectorAll(".weigh-box")) {
    box.querySelector("[data-unit]").hidden = /[a-z]/i.test(box.querySelector("input").value);
  }
};
if (form) {
  form.addEventListener("input", units);
  follow(form, () => form.dataset.liveAt);
}
