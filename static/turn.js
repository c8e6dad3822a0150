// One tab at a time does a kind of work: by the browser's locks, or, on plain http, by tabs that ask each other.
const ANSWER = 300, AGAIN = 5000; // milliseconds: that an answer takes at most, until it is asked again

const asking = (name) => {
  const me = crypto.getRandomValues(new Uint32Array(1))[0];
  const channel = new BroadcastChannel(name);
  let wants = false, has = false, told = false, wake = () => {};
  channel.onmessage = ({ data }) => {
    if (data.asks !== undefined && (has || (wants && me < data.asks))) channel.postMessage({ waits: data.asks });
    // somebody who asked earlier has it by now
    if (data.waits === me || (data.has && wants)) told = true;
    if (data.free) wake();
  };
  const pause = (ms) => new Promise((done) => { wake = done; setTimeout(done, ms); });
  return async (work) => {
    for (;;) {
      [wants, told] = [true, false];
      channel.postMessage({ asks: me });
      await new Promise((done) => setTimeout(done, ANSWER));
      wants = false;
      if (!told) break;
      await pause(AGAIN);
    }
    has = true;
    channel.postMessage({ has: true });
    try {
      return await work();
    } finally {
      has = false;
      channel.postMessage({ free: true });
    }
  };
};

/** What does work of this name when no other tab is at it; within a tab it is asked for one work after the other. */
export const turns = (name) => (navigator.locks ? (work) => navigator.locks.request(name, work)
  : window.BroadcastChannel ? asking(name)
  : (work) => work());
