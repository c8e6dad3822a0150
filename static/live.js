// What follows from a form while it is typed: the form is posted where it says, nothing is kept by it, and the parts of the
// answer marked data-live take the place of those on the page. Trusted types allow no markup from text, so it is read as a document.
const REST = 250; // milliseconds after the last key

/** Follows a form; gives what asks at once. `statuses` are those whose answer is shown, `then` is told of it. */
export const follow = (form, address, statuses = [200], then = () => {}) => {
  let waits = 0, asking = null;
  const show = (page) => {
    for (const fresh of page.querySelectorAll("[data-live]")) {
      const old = document.querySelector(`[data-live="${fresh.dataset.live}"]`);
      // what is the same is not said again
      if (old && old.innerHTML !== fresh.innerHTML) old.replaceChildren(...document.importNode(fresh, true).childNodes);
    }
    then(page);
  };
  const ask = () => {
    asking?.abort();
    asking = new XMLHttpRequest();
    asking.open("POST", address());
    asking.responseType = "document";
    asking.setRequestHeader("Content-Type", "application/x-www-form-urlencoded");
    const mine = asking;
    mine.onload = () => { if (mine === asking && statuses.includes(mine.status) && mine.response) show(mine.response); };
    mine.send(new URLSearchParams(new FormData(form)).toString());
  };
  form.addEventListener("input", () => { clearTimeout(waits); waits = setTimeout(ask, REST); });
  return ask;
};
