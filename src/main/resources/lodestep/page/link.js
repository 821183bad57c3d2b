// The line to the rig: the stream of what happens, and what a person asks.
import { t } from './words.js';

const OLD_MS = 400;
const LOOK_MS = 50;
const AGAIN_MS = 2000;

export const state = { now: null, bench: null, heardAt: -1e9, old: true, session: null };
const PATIENCE_MS = 5000;
// What is reckoned takes a core of a small board for a quarter of a minute, and waits its turn.
const RECKONED_MS = 60000;
const ACT_MS = 30000;
const STOPS_MAX = 120;
const STOPS_UNHEARD = 5;
const STOP_PAUSE_MS = 250;
const listeners = [];
const others = new Set();
let source = null;
let asking = false;
let opened = 0;

export const onChange = (listener) => listeners.push(listener);
const tell = (what) => listeners.forEach((listener) => listener(what));

const pause = (ms) => new Promise((done) => { setTimeout(done, ms); });

// Whatever is asked has an end, and gives way to Stop: a browser has few lines to one machine.
// Where none comes, the reason is a sentence of ours.
async function answered(ms, acts, send) {
  const patience = new AbortController();
  let late = false;
  const timer = setTimeout(() => { late = true; patience.abort(); }, ms);
  others.add(patience);
  try {
    const answer = await send(patience.signal);
    return { ok: answer.ok, status: answer.status, said: await answer.json() };
  } catch {
    const why = late ? 'late' : patience.signal.aborted ? 'stopped' : 'unheard';
    const seconds = { n: ms / 1000 };
    throw new Error(acts ? t(`unsure.${why}`, seconds) : t(`given.up.${why}`, seconds));
  } finally {
    clearTimeout(timer);
    others.delete(patience);
  }
}

const get = (path) => answered(path.startsWith('/voice/') ? RECKONED_MS : PATIENCE_MS, false,
  (signal) => fetch(`/api/v1${path}`, { signal }));

// Asked until it is answered.
export async function until(read) {
  for (;;) {
    try {
      return await read();
    } catch { await pause(1000); }
  }
}

export async function session() {
  const answer = await get('/session');
  if (answer.status === 401) return null;
  if (!answer.ok) throw new Error(answer.said.sentence);
  state.session = answer.said;
  return state.session;
}

export async function pair(code) {
  try {
    const answer = await answered(ACT_MS, false, (signal) => fetch('/api/v1/pair', {
      method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ code }),
      signal,
    }));
    if (answer.ok) state.session = answer.said;
    return { done: answer.ok, sentence: answer.said.sentence ?? '' };
  } catch (error) {
    return { done: false, sentence: error.message };
  }
}

export function listen() {
  if (source) source.close();
  opened = performance.now();
  source = new EventSource('/api/v1/events');
  source.addEventListener('now', (event) => {
    const now = JSON.parse(event.data);
    if (state.now && state.now.run !== now.run) {
      // Another run of the program: this page may not be the one that it serves.
      location.reload();
      return;
    }
    state.now = now;
    state.heardAt = performance.now();
    setOld(false);
    tell('now');
  });
  source.addEventListener('bench', (event) => {
    state.bench = JSON.parse(event.data);
    tell('bench');
  });
}

function setOld(old) {
  if (state.old !== old) {
    state.old = old;
    tell('age');
  }
}

// What has not been heard of for so long is old, and so is a loop that stands still.
setInterval(() => {
  const age = performance.now() - state.heardAt;
  setOld(age > OLD_MS || (state.now !== null && state.now.loopAgeMs > OLD_MS));
  const since = performance.now() - Math.max(opened, state.heardAt);
  if (source && since > AGAIN_MS && !document.hidden) again();
}, LOOK_MS);

// A stream that was refused may want another token; one that broke is opened anew.
async function again() {
  if (asking) return;
  asking = true;
  opened = performance.now();
  try {
    if (await session()) listen();
    else location.reload();
  } catch { /* the rig is gone; it is asked again */ } finally {
    asking = false;
  }
}

// A page that nobody sees takes no line from one that somebody does.
document.addEventListener('visibilitychange', () => {
  if (!source) return;
  if (document.hidden) source.close();
  else listen();
});

const serverNow = () => Math.round(state.now.at + performance.now() - state.heardAt);

function newKey() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

async function post(path, body, signal) {
  return fetch(`/api/v1${path}`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json', 'X-Lodestep-Proof': state.session.proof },
    body: JSON.stringify(body),
    signal,
  });
}

// A command: it lapses, is carried out once, and only on the state that was seen.
export async function ask(path, body) {
  if (state.old) return { done: false, sentence: '' };
  const order = { ...body, key: newKey(), saw: state.now.version, by: serverNow() + 3000 };
  try {
    const { ok, said } = await answered(ACT_MS, true, (signal) => post(path, order, signal));
    return { done: ok && said.done !== false, sentence: said.sentence ?? '', entry: said.entry };
  } catch (error) {
    return { done: false, sentence: error.message };
  }
}

export async function check(body) {
  try {
    const { ok, said } = await answered(ACT_MS, false,
      (signal) => post('/plans/check', body, signal));
    return ok ? said : { errors: [said.sentence], doubts: [], rows: [] };
  } catch (error) {
    return { errors: [error.message], doubts: [], rows: [] };
  }
}

export async function read(path) {
  const answer = await get(path);
  if (!answer.ok) throw new Error(answer.said.sentence);
  return answer.said;
}

// Stop goes out at once and again until it is confirmed, whatever else this page thinks.
export async function stop(says) {
  says('asked');
  let confirmed = false;
  for (let attempt = 1; attempt <= STOPS_MAX && !confirmed; attempt++) {
    if (attempt === 2) alone();
    if (attempt === STOPS_UNHEARD) says('unheard');
    const patience = new AbortController();
    const timer = setTimeout(() => patience.abort(), 700);
    try {
      confirmed = (await post('/stop', {}, patience.signal)).ok;
    } catch { /* asked again */ } finally {
      clearTimeout(timer);
    }
    if (!confirmed) await pause(STOP_PAUSE_MS);
  }
  if (confirmed) says('confirmed');
  return confirmed;
}

// All lines are Stop's; the stream is opened anew when nothing was heard for a while.
function alone() {
  others.forEach((each) => each.abort());
  if (source) source.close();
}
