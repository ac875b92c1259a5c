// What puts answers into the page, offers what would mend a verdict and says what has changed: a script of its own,
// which comes while Python starts, since nobody needs it before the first answer. See `showing` in source.js.

import { showFaults } from "./faults.js";
import { askSoon, outdate, remember } from "./mends.js";
import { put, putTexts, putWorkings } from "./regions.js";
import { speakSoon } from "./spoken.js";

self.raftwrightShowing = {
  put, putTexts, putWorkings, showFaults, askSoon, outdateMends: outdate, remember, speakSoon,
};
