// The sum, the shares and the class follow what is typed; the shop works them out, and records nothing by it.
const form = document.querySelector("form[data-live-at]");
const REST = 250; // milliseconds after the last key
let waits = 0, asking = null;

const show = (page) => {
  for (const fresh of page ? page.querySelectorAll("[data-live]") : []) {
    const old = document.querySelector(`[data-live="${fresh.dataset.live}"]`);
    // what is the same is not said again
    if (old && old.textContent.trim() !== fresh.textContent.trim()) old.replaceChildren(...document.importNode(fresh, true).childNodes);
  }
};
const ask = () => {
  asking?.abort();
  asking = new XMLHttpRequest();
  asking.open("POST", form.dataset.liveAt);
  asking.responseType = "document";
  asking.setRequestHeader("Content-Type", "application/x-www-form-urlencoded");
  const mine = asking;
  mine.onload = () => { if (mine === asking && mine.status === 200) show(mine.response); };
  mine.send(new URLSearchParams(new FormData(form)).toString());
};
/** A figure that says its own unit needs none behind it. */
const units = () => {
  for (const box of form.querySelectorAll(".weigh-box")) {
    box.querySelector("[data-unit]").hidden = /[a-z]/i.test(box.querySelector("input").value);
  }
};
form?.addEventListener("input", () => {
  units();
  clearTimeout(waits);
  waits = setTimeout(ask, REST);
});
