// Runs before a page's own scripts: the first worker that a page asks for is the one that this run's tests share, as long as
// no other page has it. Whoever ends that worker gets one of its own the next time.
((held) => {
  const Own = window.Worker;
  let asked = false;

  function shared(address) {
    const waiting = [];
    const front = { onmessage: null, onerror: null };
    let back = null;
    let leave = () => {};
    let ended = false;

    const take = (one) => {
      if (ended) return one.terminate?.();
      back = one;
      const end = one.port ?? one;
      end.onmessage = (event) => front.onmessage?.(event);
      one.onerror = (event) => front.onerror?.(event);
      for (const message of waiting.splice(0)) end.postMessage(message);
    };
    front.postMessage = (message) => {
      if (back) (back.port ?? back).postMessage(message);
      else waiting.push(message);
    };
    front.terminate = () => {
      ended = true;
      if (back?.port) back.port.onmessage = null;
      else back?.terminate();
      leave();
    };

    // The page that was in this tab before may still be on its way out.
    navigator.locks.request("held-python", { signal: AbortSignal.timeout(500) }, () => new Promise((done) => {
      leave = done;
      take(new SharedWorker(`${held}?worker=${encodeURIComponent(new URL(address, location.href))}`));
    })).catch(() => take(new Own(address)));
    return front;
  }

  window.Worker = function (address) {
    if (asked || location.origin !== new URL(held).origin) return new Own(address);
    asked = true;
    return shared(address);
  };
  window.Worker.prototype = Own.prototype;
})(HELD);
