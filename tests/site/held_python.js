// A Python that outlives the pages it serves: started once for all tests of a worker, it forgets one page at the next.
// What the tabs talk to is the site's own worker, whole and unchanged; only its start is not done again.

const FORGET = `
import calc.api, calc.keeping_api
calc.api._SETTLING, calc.api._SHELF, calc.api._TEXTS = calc.settle.Settling(), calc.api.page.Shelf(), calc.api.page.Texts()
calc.keeping_api._DESK = calc.keeping_api.Desk()
`;

importScripts(new URL(location.href).searchParams.get("worker"));

const hear = self.onmessage;
const load = self.loadPyodide;
let python = null;
// Whom the worker speaks to; and what it said since it was started, for whoever comes next.
let port = null;
let ready = null;

self.loadPyodide = async (how) => {
  python = await load(how);
  return python;
};

self.postMessage = (message) => {
  if (message.type === "ready") ready = message;
  if (port) port.postMessage(message);
};

function start(data) {
  if (!ready) return hear({ data });
  python.runPython(FORGET);
  for (const state of ["fetching", "starting"]) self.postMessage({ type: "state", state });
  self.postMessage(ready);
}

self.onconnect = ({ ports: [mine] }) => {
  mine.onmessage = ({ data }) => {
    port = mine;
    if (data.type === "start") start(data);
    else hear({ data });
  };
};
