// Sends photographs while one walks on: hashed, in parts, again after a cut. Without it the plain form does the same.
"use strict";
(() => {
  const KIB = 1024;
  const LEAST = 256 * KIB, FIRST = 512 * KIB, MOST = 4096 * KIB, LARGEST = 65536 * KIB;
  const AT_ONCE = 2, PATIENCE = 45000;
  const KINDS = { "image/jpeg": "JPEG", "image/png": "PNG", "image/webp": "WebP" };
  const all = [];
  let chunk = FIRST, wakeUp = [];

  document.documentElement.classList.add("scripted");

  // SHA-256 (FIPS 180-4), for pages on plain http, where the browser does not offer its own.
  const ROUND = [
    0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
    0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
    0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
    0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
    0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
    0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
    0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
    0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
  ];
  const START = [
    0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19,
  ];
  const pause = () => new Promise((done) => setTimeout(done, 0));

  const ownSha256 = async (bytes) => {
    const h = Int32Array.from(START), w = new Int32Array(64);
    const rest = bytes.length % 64, whole = bytes.length - rest;
    const tail = new Uint8Array(rest < 56 ? 64 : 128);
    tail.set(bytes.subarray(whole));
    tail[rest] = 0x80;
    const view = new DataView(tail.buffer);
    view.setUint32(tail.length - 8, Math.floor(bytes.length / 0x20000000));
    view.setUint32(tail.length - 4, (bytes.length << 3) >>> 0);
    const turn = (x, n) => (x >>> n) | (x << (32 - n));
    const block = (from, at) => {
      for (let i = 0; i < 16; i++, at += 4) w[i] = (from[at] << 24) | (from[at + 1] << 16) | (from[at + 2] << 8) | from[at + 3];
      for (let i = 16; i < 64; i++) {
        const a = w[i - 15], b = w[i - 2];
        w[i] = (w[i - 16] + (turn(a, 7) ^ turn(a, 18) ^ (a >>> 3)) + w[i - 7] + (turn(b, 17) ^ turn(b, 19) ^ (b >>> 10))) | 0;
      }
      let [a, b, c, d, e, f, g, k] = h;
      for (let i = 0; i < 64; i++) {
        const one = (k + (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + ((e & f) ^ (~e & g)) + ROUND[i] + w[i]) | 0;
        const two = ((turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) | 0;
        k = g; g = f; f = e; e = (d + one) | 0; d = c; c = b; b = a; a = (one + two) | 0;
      }
      [a, b, c, d, e, f, g, k].forEach((x, i) => { h[i] = (h[i] + x) | 0; });
    };
    for (let at = 0; at < whole; at += 64) {
      block(bytes, at);
      if (at % 1048576 === 0) await pause();
    }
    for (let at = 0; at < tail.length; at += 64) block(tail, at);
    return Array.from(h, (x) => (x >>> 0).toString(16).padStart(8, "0")).join("");
  };
  const sha256 = async (bytes) => {
    if (!(window.crypto && crypto.subtle)) return ownSha256(bytes);
    const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
    return Array.from(digest, (x) => x.toString(16).padStart(2, "0")).join("");
  };
  const newName = () => {
    const b = crypto.getRandomValues(new Uint8Array(16));
    b[6] = (b[6] & 15) | 64;
    b[8] = (b[8] & 63) | 128;
    const hex = Array.from(b, (x) => x.toString(16).padStart(2, "0")).join("");
    return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
  };
  const kindOf = (b) => {
    const is = (at, ...bytes) => bytes.every((byte, i) => b[at + i] === byte);
    if (is(0, 0xff, 0xd8, 0xff)) return "image/jpeg";
    if (is(0, 0x89, 0x50, 0x4e, 0x47)) return "image/png";
    if (is(0, 0x52, 0x49, 0x46, 0x46) && is(8, 0x57, 0x45, 0x42, 0x50)) return "image/webp";
    return "";
  };
  const localTime = (ms) => {
    const at = new Date(ms), two = (n) => String(n).padStart(2, "0");
    const off = -at.getTimezoneOffset(), sign = off < 0 ? "-" : "+";
    return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())} ${two(at.getHours())}:${two(at.getMinutes())}:${two(at.getSeconds())} ${sign}${two(Math.floor(Math.abs(off) / 60))}:${two(Math.abs(off) % 60)}`;
  };

  // What is on this phone, always on screen.
  const panel = document.createElement("section");
  panel.className = "unsent";
  panel.setAttribute("aria-label", "Photographs on this phone");
  panel.hidden = true;
  const make = (name, words, parent) => {
    const made = document.createElement(name);
    made.textContent = words;
    parent.append(made);
    return made;
  };
  const list = make("ul", "", panel);
  const said = make("p", "", panel);
  said.setAttribute("role", "status");
  const line = make("div", "", panel);
  line.className = "bar";
  const bar = make("progress", "", line);
  const place = () => document.querySelector("footer").before(panel);

  const unsent = () => all.filter((one) => one.state !== "kept" && one.state !== "refused");
  const tell = () => {
    const waiting = unsent(), sending = waiting.filter((one) => one.state === "sending").length;
    panel.hidden = all.length === 0;
    const cut = waiting.find((one) => one.why);
    said.textContent = waiting.length === 0
      ? "All photographs of this phone are kept by the shop."
      : `${waiting.length} on this phone, ${sending ? `sending ${sending}` : "waiting"}. Keep this page open.${cut ? " " + cut.why : ""}`;
    bar.max = Math.max(1, waiting.reduce((sum, one) => sum + one.size, 0));
    bar.value = waiting.reduce((sum, one) => sum + one.sent, 0);
    line.hidden = waiting.length === 0;
  };
  const show = (one) => {
    if (!one.row) {
      one.row = document.createElement("li");
      one.picture = make("img", "", one.row);
      one.picture.alt = "";
      one.picture.width = 56;
      one.picture.height = 42;
      one.picture.src = one.url;
      one.words = make("p", "", one.row);
      // the newest, and those that somebody has to take again
      all.filter((old) => old !== one && old.state !== "refused" && old.row).forEach((old) => old.row.remove());
      list.prepend(one.row);
    }
    const part = one.shot.split(" ")[0] || "Photo";
    one.words.textContent = "";
    make("b", part, one.words);
    const percent = Math.floor((100 * one.sent) / Math.max(1, one.size));
    const state = {
      reading: " being read", waiting: " on this phone", sending: ` sending, ${percent} %`,
      kept: " kept by the shop.", refused: " not taken.",
    }[one.state];
    one.words.append(state + " " + (one.state === "sending" || one.state === "waiting" ? "" : one.why || ""));
    if (one.state === "refused" && !one.row.isConnected) list.append(one.row);
    if (one.shot && (one.state === "refused" || (one.state === "kept" && one.why))) {
      const again = make("a", "Take it again", one.words);
      again.href = `${one.base}/walk?shot=${encodeURIComponent(one.shot)}`;
      again.dataset.walk = "";
    }
    tell();
  };

  const pick = async (file, form) => {
    const one = {
      base: form.dataset.take, shot: form.dataset.shot, note: (form.elements.note || {}).value || "", name: newName(),
      taken: localTime(file.lastModified), size: file.size, sent: 0, state: "reading", why: "", altered: 0, wait: 1000,
      url: URL.createObjectURL(file),
    };
    all.push(one);
    show(one);
    try {
      one.bytes = new Uint8Array(await file.arrayBuffer());
      one.sha256 = await sha256(one.bytes);
    } catch (error) {
      one.state = "refused";
      one.why = "The phone could not read this photo. Take it again.";
      return show(one);
    }
    one.kind = kindOf(one.bytes);
    one.state = "waiting";
    show(one);
    work();
  };

  // Sending: two at once, the oldest first.
  const work = () => {
    let busy = all.filter((one) => one.busy).length;
    for (const one of all) {
      if (busy >= AT_ONCE) return;
      if (one.busy || (one.state !== "waiting" && one.state !== "sending") || one.until > Date.now()) continue;
      one.busy = true;
      busy++;
      send(one).finally(() => { one.busy = false; work(); });
    }
  };
  const ask = async (one, method, last, headers, body) => {
    const stop = new AbortController(), clock = setTimeout(() => stop.abort(), PATIENCE);
    try {
      return await fetch(one.base + last, { method, headers, body, signal: stop.signal, credentials: "same-origin", redirect: "error" });
    } finally {
      clearTimeout(clock);
    }
  };
  const later = (one, why) => {
    one.why = why;
    one.state = "waiting";
    const wait = one.wait * (0.5 + Math.random());
    one.wait = Math.min(60000, one.wait * 2);
    one.until = Date.now() + wait;
    wakeUp.push(setTimeout(() => { one.until = 0; work(); }, wait));
    show(one);
  };
  const keptNow = async (one, answer) => {
    const receipt = await answer.json().catch(() => ({}));
    one.state = "kept";
    one.sent = one.size;
    one.why = ((receipt.receipt || receipt).remarks || []).join(" ");
    one.bytes = null;
    show(one);
  };
  const refused = async (one, answer) => {
    const problem = await answer.json().catch(() => ({}));
    one.state = "refused";
    one.why = problem.detail || "The shop did not take it.";
    one.bytes = null;
    show(one);
  };
  const offsetOf = (answer) => Number(answer.headers.get("Upload-Offset"));
  // Gives true when the rest has to wait or is done.
  const settled = async (one, answer) => {
    if (answer.status === 401) {
      later(one, "Nobody is signed in any more: sign in on another page, this one goes on by itself.");
      one.until = Date.now() + 15000;
      return true;
    }
    if (answer.status === 408 || answer.status === 429 || answer.status >= 500) {
      const full = answer.status === 507;
      later(one, full ? "The shop's disk is full; the photos stay here." : "The shop is busy; it goes on by itself.");
      return true;
    }
    return false;
  };
  const send = async (one) => {
    try {
      one.state = "sending";
      show(one);
      const told = JSON.stringify({ sha256: one.sha256, size: one.size, type: one.kind, shot: one.shot, note: one.note, taken: one.taken });
      let answer = await ask(one, "PUT", `/captures/${one.name}`, { "Content-Type": "application/json" }, told);
      if (await settled(one, answer)) return;
      if (!answer.ok) return await refused(one, answer);
      if (answer.headers.get("Upload-Complete") === "?1") return await keptNow(one, answer);
      one.sent = offsetOf(answer);
      for (;;) {
        const from = one.sent, to = Math.min(one.size, from + chunk), last = to === one.size;
        const began = Date.now();
        answer = await ask(one, "PATCH", `/uploads/${one.sha256}`, {
          "Content-Type": "application/partial-upload", "Upload-Offset": String(from), "Upload-Complete": last ? "?1" : "?0",
        }, one.bytes.subarray(from, to));
        if (await settled(one, answer)) return;
        if (answer.status === 200) return await keptNow(one, answer);
        if (answer.status === 422 && ++one.altered < 2) {
          one.sent = 0;
          continue;
        }
        if (answer.status === 409 || (answer.ok && !last)) {
          one.sent = offsetOf(answer);
        } else {
          return await refused(one, answer);
        }
        one.wait = 1000;
        one.why = "";
        if (answer.ok) chunk = Date.now() - began < 4000 ? Math.min(MOST, chunk * 2) : chunk;
        show(one);
      }
    } catch (error) {
      chunk = Math.max(LEAST, chunk / 2);
      later(one, "No connection to the shop; it goes on by itself.");
    }
  };
  const hurry = () => {
    wakeUp.forEach(clearTimeout);
    wakeUp = [];
    all.forEach((one) => { one.until = 0; one.wait = 1000; });
    work();
  };
  addEventListener("online", hurry);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) hurry(); });
  addEventListener("beforeunload", (leaving) => { if (unsent().length) leaving.preventDefault(); });

  // Walking on without leaving the page, so that sending goes on.
  const swap = (page, address, keep) => {
    const ways = "nav[aria-label=Sheets]";
    document.querySelector(ways)?.remove();
    for (const name of ["main", ".strip", "footer"]) {
      const [old, fresh] = [document.querySelector(name), page.querySelector(name)];
      if (old && fresh) old.replaceWith(document.importNode(fresh, true));
    }
    const fresh = page.querySelector(ways);
    if (fresh) document.querySelector("main").before(document.importNode(fresh, true));
    document.title = page.title;
    if (!keep) history.pushState({}, "", address);
    place();
    scrollTo(0, 0);
  };
  const go = (method, address, body, keep) => {
    const asking = new XMLHttpRequest();
    asking.open(method, address);
    asking.responseType = "document";
    if (body) asking.setRequestHeader("Content-Type", "application/x-www-form-urlencoded");
    asking.onload = () => {
      const page = asking.response;
      if (page && page.querySelector("main")) swap(page, asking.responseURL || address, keep);
      else if (!unsent().length) location.assign(address);
    };
    asking.onerror = () => { said.textContent = "No connection to the shop: the next shot cannot be shown. The photos stay here and go on by themselves."; panel.hidden = false; };
    asking.send(body);
  };
  addEventListener("popstate", () => go("GET", location.href, null, true));
  document.addEventListener("click", (touched) => {
    const link = touched.target.closest && touched.target.closest("a[href]");
    if (!link || !unsent().length || touched.ctrlKey || touched.metaKey || new URL(link.href).origin !== location.origin) return;
    touched.preventDefault();
    go("GET", link.href);
  });
  document.addEventListener("submit", (sent) => {
    const form = sent.target;
    if (!form.matches("form[data-walk]") || !unsent().length) return;
    sent.preventDefault();
    go("POST", form.action, new URLSearchParams(new FormData(form)).toString());
  });
  document.addEventListener("change", async (changed) => {
    const input = changed.target;
    const form = input.form;
    if (input.type !== "file" || !form || !form.matches("form.take")) return;
    const files = Array.from(input.files), why = form.querySelector("p.why"), wrong = [], good = [];
    for (const file of files) {
      const kind = kindOf(new Uint8Array(await file.slice(0, 16).arrayBuffer().catch(() => new ArrayBuffer(0))));
      if (!KINDS[kind]) wrong.push(`${file.name} is no photo that can be kept. JPEG, PNG and WebP can; set the camera to JPEG.`);
      else if (file.size > LARGEST) wrong.push(`${file.name} has more than 64 MiB. Set the camera to a smaller picture.`);
      else good.push(file);
    }
    input.value = "";
    why.hidden = wrong.length === 0;
    why.textContent = wrong.join(" ");
    good.forEach((file) => pick(file, form));
    if (good.length && !wrong.length && form.dataset.next) go("GET", form.dataset.next);
  });
  place();
})();
