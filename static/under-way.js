// What the program does meanwhile is said anew every few seconds. The list of builds grows with it; any other sheet is left as it stands,
// because somebody may be at work on it.
const EVERY = 2000; // milliseconds

const grows = location.pathname === "/";
const said = () => document.getElementById("under-way");

const show = (page) => {
  const fresh = page.getElementById("under-way"), old = said();
  const main = document.querySelector("main"), theirs = page.querySelector("main");
  if (grows && theirs && !main.contains(document.activeElement)) {
    main.replaceChildren(...document.importNode(theirs, true).childNodes);
  } else if (fresh) {
    if (fresh.textContent !== old.textContent) old.textContent = fresh.textContent;
  } else {
    const again = document.createElement("a");
    again.href = location.href;
    again.textContent = "Show this sheet as it is now";
    old.replaceChildren("That is done. ", again, ".");
  }
  if (fresh) ask();
};

const ask = () => setTimeout(() => {
  const asking = new XMLHttpRequest();
  asking.open("GET", location.href);
  asking.responseType = "document";
  asking.onload = () => { if (asking.status === 200 && asking.response && said()) show(asking.response); };
  asking.onerror = ask;
  asking.send();
}, EVERY);

ask();
