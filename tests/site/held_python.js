// A Python that outlives the pages it serves: started once for a worker's tests, it forgets one page at the next.
// Behind it is the site's own worker, whole and unchanged; only its start is not done again.

const FORGET = `
import calc.api, calc.keeping_api
from calc.render import page
from calc.settle import Settling
calc.api._SETTLING = Settling()
calc.api._SHELF = page.Shelf()
calc.api._TEXTS = page.Texts()
calc.keeping_api._DESK = calc.keeping_api.Desk()
`;

importScripts(new URL(location.href).searchParams.get("worker"));

const hear = self.onmessage;
const load = self.loadPyodide;
let python = null;
// The page that asked last, and what the worker said when it was ready.
let port = null;
let ready = null;

self.loadPyodide = async (how) => {
  python = await load(how);
  return python;
};

self.postMessage = (message) => {
  if (message.type === "ready") ready = message;
  port.postMessage(message);
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
