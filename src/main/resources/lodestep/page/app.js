import { h, put } from './parts.js';
import { between, has, loadWords, settings, sentence, steady, t, told } from './words.js';
import * as link from './link.js';
import { hands } from './hands.js';
import { now } from './now.js';
import { batch } from './batch.js';
import { magnets } from './magnets.js';
import { voice } from './voice.js';
import { gauge } from './gauge.js';
import { rig } from './rig.js';

const screens = { now, batch, magnets, voice, gauge, rig };
const by = (id) => document.getElementById(id);
let shown = null;
let rigSays = null;

const place = () => {
  const [name, ...rest] = location.hash.slice(1).split('/');
  return { name: name in screens ? name : 'now', rest };
};

const TOLD_MS = 8000;
let toldTimer = 0;

function tellOnce(text) {
  put(by('told'), text);
  clearTimeout(toldTimer);
  if (text) toldTimer = setTimeout(() => put(by('told'), ''), TOLD_MS);
}

// Whatever a person asks: the answer stands under the leading sentence.
async function ask(path, body) {
  const answer = await link.ask(path, body);
  // What a hand did is seen at once; only what it could not do is said.
  const quiet = answer.done && (path === '/hands' || path === '/by-hand' || body.what === 'continue');
  tellOnce(quiet ? '' : sentence(told(answer.sentence) || t('not.sent')));
  return answer;
}

const mayPrepare = () => link.state.session?.scope === 'prepare';
const context = { ask, tellOnce, mayPrepare, link, rigSays: () => rigSays };

function setLight() {
  document.documentElement.dataset.light = settings.light;
}

function switches() {
  const choice = (name, options) => h('select', {
    'aria-label': t(`switch.${name}`),
    onchange: (event) => {
      settings.set(name, event.target.value);
      setLight();
      // What is typed is kept beside the screens; the switch itself stays, and the keyboard with it.
      open();
    },
  }, options.map((each) => h('option', { value: each, selected: settings[name] === each },
    t(`switch.${name}.${each}`))));
  return h('div', { class: 'row switches' },
    choice('unit', ['G', 'mT']), choice('light', ['auto', 'light', 'dark']));
}

function foot() {
  const cautions = (rigSays?.cautions ?? []).join('\n').split(/\n\s*\n/).filter((each) => each.trim());
  by('footer').replaceChildren(
    h('p', {}, t(rigSays?.drives === false ? 'stop.is.alone' : 'stop.is')),
    h('details', { open: true },
      h('summary', {}, h('strong', {}, t('cautions'))),
      cautions.map((each) => each.trim().replace(/\n/g, ' ')).map((each) =>
        h('p', {}, each === each.toUpperCase() ? h('strong', {}, told(each)) : told(each)))),
    switches());
}

function navigate() {
  by('nav').replaceChildren(...Object.keys(screens).map((name) => h('a', {
    href: `#${name}`, 'aria-current': place().name === name ? 'page' : null,
  }, t(`screen.${name}`))));
}

function open() {
  const { name, rest } = place();
  if (shown?.close) shown.close();
  navigate();
  const main = by('main');
  main.replaceChildren();
  document.title = t('title', { screen: t(`screen.${name}`) });
  shown = screens[name](main, context, rest);
  if (link.state.bench) shown.bench?.(link.state.bench, link.state.now);
  if (link.state.now) shown.now?.(link.state.now);
  buttons();
}

const lines = {
  lead: '',
  // A magnet's name keeps its letters, also where it begins the sentence.
  spoken(text) {
    const named = (link.state.bench?.batch?.magnets ?? []).some((each) => text.startsWith(each.name));
    const words = told(text);
    const whole = sentence(words);
    return named && words[0] === text[0] ? text[0] + whole.slice(1) : whole;
  },
  show() {
    const { now: seen, old } = link.state;
    if (!seen) return;
    const lead = old ? t('old') : this.spoken(seen.sentence);
    put(by('sentence'), lead);
    by('sentence').className = lead.length > 80 ? 'long' : '';
    if (lead !== this.lead) {
      this.lead = lead;
      put(by('aloud'), lead);
    }
    const poles = place().name !== 'magnets' && link.state.bench?.poles;
    const read = poles && t(poles.over ? 'todo.read' : 'todo.reading', { name: poles.name });
    const idle = !poles && ['idle', 'done'].includes(seen.phase) && place().name === 'now'
      ? t(rigSays?.drives === false ? 'todo.alone' : 'todo.plan') : '';
    put(by('todo'), old ? t('old.todo') : sentence(told(seen.todo)) || read || idle);
    put(by('left'), !old && seen.left ? left(seen.left) : '');
    document.body.dataset.phase = seen.phase;
    document.body.dataset.age = old ? 'old' : 'new';
    put(by('rig'), seen.rig);
    by('virtual').hidden = !seen.virtual;
  },
};

// How long a batch takes still, and what says so; no closer than it is known.
function left({ leastSeconds, mostSeconds, by: whose, magnets, alloys }) {
  const one = magnets === 1 && has(`left.by.${whose}.one`) ? '.one' : '';
  return t('left', { span: between(steady(leastSeconds), steady(mostSeconds)),
    by: t(`left.by.${whose}${one}`, { n: magnets, alloys }) });
}

// What can be asked in this phase; nothing else is offered.
const offers = {
  guided: ['did', 'enough'],
  reading: ['enough'],
  load: ['pause', 'finish'],
  zero: ['pause', 'finish'],
  work: ['pause'],
  hands: ['skip'],
  paused: ['continue', 'finish'],
  verdict: ['pause', 'finish'],
  attention: ['continue'],
  resume: ['continue'],
};

// What is said of guided readings in other words than of a batch.
const commands = { did: 'continue', enough: 'finish', 'skip.out': 'skip' };

function askRow() {
  const seen = link.state.now;
  const what = mayPrepare() && seen ? [...offers[seen.phase] ?? []] : [];
  if (mayPrepare() && seen?.mayLeaveOut) what.splice(1, 0, 'skip.out');
  const buttonsNow = what.map((each) => h('button', {
    type: 'button', class: ['continue', 'did'].includes(each) ? 'first' : null, 'data-act': each,
    onclick: () => ask('/commands', { what: commands[each] ?? each }),
  }, has(`ask.${each}.${seen.guides}`) ? t(`ask.${each}.${seen.guides}`) : t(`ask.${each}`)));
  // After a trip the key comes first.
  if (mayPrepare() && link.state.bench?.leftOpen && seen?.phase !== 'tripped') {
    buttonsNow.push(h('button', {
      type: 'button', class: 'first', 'data-act': 'resume',
      onclick: () => ask('/commands', { what: 'resume' }),
    }, t('ask.resume', { name: link.state.bench.leftOpen })));
  }
  return buttonsNow;
}

let offered = '';
const handsRow = hands(context);

function offer() {
  const key = `${link.state.now?.phase} ${link.state.now?.mayLeaveOut} ${link.state.bench?.leftOpen} ${mayPrepare()}`;
  if (key !== offered) {
    offered = key;
    by('ask').replaceChildren(h('div', { class: 'row' }, askRow()), handsRow.box);
    buttons();
  }
  const guided = ['guided', 'reading'].includes(link.state.now?.phase)
    || (place().name === 'gauge' && Boolean(link.state.bench?.hand));
  const resting = ['idle', 'done'].includes(link.state.now?.phase) && place().name === 'gauge';
  if (link.state.now) {
    handsRow.now(link.state.now, guided || resting || ['now', 'batch'].includes(place().name), resting);
  }
}

// An old page's buttons are dead; Stop alone goes on trying.
function buttons() {
  for (const each of document.querySelectorAll('main button, #ask button')) {
    const dead = link.state.old || each.dataset.dead === 'true';
    if (each.disabled !== dead) each.disabled = dead;
  }
}

function stopButton() {
  const button = by('stop');
  // Where nothing is driven no trip follows, by which the next stop would be made ready.
  const alone = () => rigSays?.drives === false;
  const says = (what) => {
    button.replaceChildren(t('stop'), h('small', {}, t(alone() && what === 'ready' ? 'stop.ready.alone' : `stop.${what}`)));
    button.dataset.says = what;
  };
  says('ready');
  const press = () => link.stop((what) => {
    says(what);
    put(by('aloud'), t(`stop.${what}.aloud`));
    if (alone() && what === 'confirmed') setTimeout(() => says('ready'), TOLD_MS);
  });
  // At the first touch, not when the finger leaves.
  button.addEventListener('pointerdown', press);
  button.addEventListener('keydown', (event) => {
    if (event.key === 'Enter' || event.key === ' ') {
      event.preventDefault();
      press();
    }
  });
  // What presses for a person, as a switch or a screen reader, sends a click alone.
  button.addEventListener('click', (event) => {
    if (event.detail === 0) press();
  });
  document.addEventListener('keydown', (event) => {
    if (event.key === 'Escape') press();
  });
  // It stays confirmed until the trip that it led to has been seen and is over.
  let tripped = false;
  link.onChange((what) => {
    if (what !== 'now') return;
    if (link.state.now.phase === 'tripped') {
      tripped = true;
    } else if (tripped) {
      tripped = false;
      if (button.dataset.says === 'confirmed') says('ready');
    }
  });
  // What it does here is known once the rig has said what it drives; it works before that.
  return () => { if (button.dataset.says === 'ready') says('ready'); };
}

function pairing(says = '') {
  by('stop').hidden = true;
  put(by('sentence'), t('pair'));
  const input = h('input', {
    id: 'code', autocomplete: 'one-time-code', autocapitalize: 'characters', spellcheck: 'false',
    maxlength: '12', 'aria-describedby': 'pair-says',
  });
  const form = h('form', {
    onsubmit: async (event) => {
      event.preventDefault();
      const answer = await link.pair(input.value);
      if (answer.done) begin();
      else put(by('pair-says'), sentence(answer.sentence));
    },
  },
  h('label', { for: 'code' }, t('pair.code')), input,
  h('p', { id: 'pair-says', role: 'status' }, says),
  h('button', { class: 'first' }, t('pair.do')));
  by('main').replaceChildren(h('section', { class: 'part' }, h('h2', {}, t('pair.device')),
    h('p', {}, t('pair.how')), form));
  input.focus();
}

async function begin() {
  by('stop').hidden = false;
  const stopSays = stopButton();
  rigSays = await link.until(() => link.read('/rig'));
  stopSays();
  foot();
  open();
  window.addEventListener('hashchange', () => {
    open();
    by('main').focus({ preventScroll: true });
    window.scrollTo(0, 0);
  });
  link.onChange((what) => {
    lines.show();
    offer();
    if (what === 'bench') shown.bench?.(link.state.bench, link.state.now);
    if (what === 'now') shown.now?.(link.state.now);
    if (what === 'age') shown.age?.(link.state.old);
    buttons();
  });
  link.listen();
}

async function start() {
  setLight();
  await loadWords(document.documentElement.lang);
  put(by('skip'), t('skip'));
  put(by('virtual'), t('virtual'));
  by('nav').setAttribute('aria-label', t('nav'));
  put(by('sentence'), t('opening'));
  // The link with the code may be opened where the page was open without it.
  window.addEventListener('hashchange', () => {
    if (location.hash.startsWith('#pair=')) location.reload();
  });
  const code = location.hash.match(/^#pair=([\w-]+)$/);
  if (code) {
    history.replaceState(null, '', '/');
    const answer = await link.pair(code[1]);
    if (!answer.done) return pairing(sentence(answer.sentence));
  } else if (!(await link.until(link.session))) {
    return pairing();
  }
  return begin();
}

start();
