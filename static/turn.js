// One tab sends at a time: by the browser's locks, or, on plain http, by tabs that ask each other.
const NAME = "tackbook sending";
const ANSWER = 300, AGAIN = 5000; // milliseconds: that an answer takes at most, until it is asked again

const asking = () => {
  const me = crypto.getRandomValues(new Uint32Array(1))[0];
  const channel = new BroadcastChannel(NAME);
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

/** Does the work when no other tab is at it. */
export const inTurn = navigator.locks ? (work) => navigator.locks.request(NAME, work)
  : window.BroadcastChannel ? asking()
  : (work) => work();
