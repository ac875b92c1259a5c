// Steps back and forth: each is the whole plan as it was, so that whatever changed it can be undone.

const MOST = 200;

/** The one key in which two plans differ; "" where it is none or more than one. */
export function onlyChange(before, after) {
  let found = "";
  for (const key of new Set([...Object.keys(before), ...Object.keys(after)])) {
    if (before[key] === after[key]) continue;
    if (found) return "";
    found = key;
  }
  return found;
}

function samePlan(left, right) {
  return Object.keys(left).length === Object.keys(right).length
    && Object.entries(left).every(([key, text]) => right[key] === text);
}

/** A state is {plan, id, name}. */
export function sameState(left, right) {
  return left.id === right.id && samePlan(left.plan, right.plan);
}

export class Undo {
  constructor() {
    this.back = [];
    this.forth = [];
    this.key = "";
    this.onmove = () => {};
  }

  /** A change has been made: `before` is the state it was made from. Letters typed into one field are one step. */
  note(before, after) {
    if (sameState(before, after)) return;
    const key = before.id === after.id ? onlyChange(before.plan, after.plan) : "";
    if (!key || key !== this.key) this.back.push(before);
    if (this.back.length > MOST) this.back.shift();
    this.key = key;
    this.forth = [];
    this.onmove();
  }

  /** The next letter begins a new step, into whichever field. */
  seal() {
    this.key = "";
  }

  /** The state before `now`, or null. */
  undo(now) {
    return this.move(this.back, this.forth, now);
  }

  /** The state that was undone last, or null. */
  redo(now) {
    return this.move(this.forth, this.back, now);
  }

  move(from, to, now) {
    this.seal();
    const found = from.pop();
    if (!found) return null;
    to.push(now);
    this.onmove();
    return found;
  }
}
