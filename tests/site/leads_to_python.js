// Runs before a page's own scripts: the first worker that the page asks for is the one that a worker's tests share, as
// long as no other page has it. Whoever ends that one, or comes second, gets one of its own.
((held) => {
  const Own = window.Worker;
  let asked = false;

  /** What a page takes for its worker; `end` is where its messages go, once it is known who answers. */
  function front(address) {
    const waiting = [];
    const seen = { onmessage: null, onerror: null };
    let end = null;
    let leave = null;

    const take = (found, failing) => {
      end = found;
      end.onmessage = (event) => seen.onmessage?.(event);
      failing.onerror = (event) => seen.onerror?.(event);
      for (const message of waiting.splice(0)) end.postMessage(message);
    };
    seen.postMessage = (message) => {
      if (end) end.postMessage(message);
      else waiting.push(message);
    };
    seen.terminate = () => {
      if (end) end.onmessage = null;
      if (leave) leave();
      else end?.terminate();
    };

    // The page that was in this tab before may still be on its way out.
    navigator.locks.request("held-python", { signal: AbortSignal.timeout(500) }, () => new Promise((done) => {
      leave = done;
      window.pythonIsShared = true;
      const shared = new SharedWorker(`${held}?worker=${encodeURIComponent(address)}`);
      take(shared.port, shared);
    })).catch(() => {
      const own = new Own(address);
      take(own, own);
    });
    return seen;
  }

  window.Worker = function (address) {
    if (asked || location.origin !== new URL(held).origin) return new Own(address);
    asked = true;
    return front(address);
  };
  window.Worker.prototype = Own.prototype;
})(HELD);
