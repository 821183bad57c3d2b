import { h, part, put } from './parts.js';
import { t, has, sentence } from './words.js';
import { asking, draft, field, link } from './shelf.js';
import { choice, takeUp } from './plan.js';
import { inGauss, reckoned, told } from './told.js';

const MAGNET = ['alloy', 'shape', 'size'];
const SHAPES = ['rod', 'ring', 'bar', 'bar through thickness', 'bar along length'];
const ARRANGED = ['between two rows', 'either side of one row', 'under one row'];
const FOLDS = {
  strings: ['distance', 'strings', 'pitch', 'polesUp', 'scale', 'fromBridge', 'standOff'],
  steel: ['poles', 'arranged', 'keeper'],
  coil: ['inductance', 'resistance', 'capacitance', 'load', 'turns', 'winding', 'cores', 'coresOf', 'count'],
};
const NOTES_SHOWN = 10;
const FILE_MAX = 60_000;
const FIELDS = [...MAGNET, ...Object.values(FOLDS).flat()];

// What is described, asked and answered outlives a look at another screen.
const described = draft('voice', { shape: 'rod' });
const asked = draft('voice asked', { about: 'strings', level: '', by: '' });
const wanted = draft('voice wanted', { levels: '', tolerance: '', set: '', spread: '', reverse: '' });
let answered = null;
let turn = 0;
// The screen that is open when an answer comes may be another than the one that asked.
let showAnswer = () => {};

const query = (values) => new URLSearchParams(Object.entries(values)
  .filter(([, value]) => value)).toString();
const said = () => Object.fromEntries(FIELDS.map((name) => [name, described[name] ?? '']));

// The field that a refusal names, by its own label.
function named(text) {
  const [, word, rest] = text.match(/^([a-z-]+): (.*)$/s) ?? [];
  const name = word?.replace(/-(.)/g, (all, letter) => letter.toUpperCase());
  return name && has(`voice.${name}`) ? { name, text: `${t(`voice.${name}`)}: ${rest}` } : { text };
}

function select(name, options, into, onchange) {
  return h('div', {}, h('label', { for: `voice-${name}` }, t(`voice.${name}`)),
    h('select', { id: `voice-${name}`, onchange: (event) => {
      into[name] = event.target.value;
      if (onchange) onchange();
    } }, options.map((each) => h('option', { value: each, selected: each === (into[name] ?? '') },
      each || t('stock.choose')))));
}

function pickup(offered, redraw) {
  const list = (name) => offered.sizes.filter((each) => each.field === name
    && (!each.shape || (described.shape ?? 'rod').startsWith(each.shape))).flatMap((each) => each.sizes);
  const typed = (name) => {
    const sizes = list(name);
    const box = field(`voice-${name}`, t(`voice.${name}`), described, name, {
      placeholder: offered.usual[name] || null, maxlength: '200',
      list: sizes.length ? `voice-sizes-${name}` : null, spellcheck: 'false',
    });
    if (sizes.length) {
      box.append(h('datalist', { id: `voice-sizes-${name}` },
        sizes.map((each) => h('option', { value: each }))));
    }
    return box;
  };
  const one = (name) => (name === 'arranged' ? select(name, ARRANGED, described) : typed(name));
  const fold = (name) => h('details', { open: FOLDS[name].some((each) => described[each]),
    'data-fold': name }, h('summary', {}, t(`voice.fold.${name}`)),
  h('div', { class: 'row fields' }, FOLDS[name].map(one)));
  return part(t('voice.pickup'), h('p', { class: 'soft' }, t('voice.pickup.is')),
    h('div', { class: 'row fields' },
      select('alloy', ['', ...offered.alloys], described),
      select('shape', SHAPES, described, redraw), typed('size')),
    Object.keys(FOLDS).map(fold));
}

function question(context, offered, redraw) {
  const says = h('p', { role: 'status' });
  const go = h('button', { class: 'first', 'data-act': 'voice' }, t('voice.do'));
  async function work(event) {
    event.preventDefault();
    go.disabled = true;
    go.dataset.dead = 'true';
    document.querySelectorAll('[aria-invalid]').forEach((each) => each.removeAttribute('aria-invalid'));
    try {
      const more = asked.about === 'coil' ? {} : { level: asked.level,
        by: asked.about === 'instead' ? asked.by : '' };
      const about = asked.about;
      const mine = ++turn;
      const answer = await reckoned(says,
        () => context.link.read(`/voice/${about}?${query({ ...said(), ...more })}`));
      // Of two that were asked one after the other the later one stands.
      if (mine !== turn) {
        put(says, '');
        return;
      }
      answered = { answer, about };
      put(says, t('voice.done'));
      showAnswer();
    } catch (error) {
      const refused = named(error.message);
      says.className = 'note bad';
      put(says, sentence(refused.text));
      const wrong = refused.name && document.getElementById(`voice-${refused.name}`);
      if (wrong) {
        wrong.setAttribute('aria-invalid', 'true');
        const fold = wrong.closest('details');
        if (fold) fold.open = true;
        wrong.focus();
      }
    } finally {
      go.dataset.dead = 'false';
      go.disabled = context.link.state.old;
    }
  }
  return part(t('voice.question'), h('form', { onsubmit: work },
    choice('voice-about', t('voice.about'), ['strings', 'sustain', 'instead', 'coil'].map((each) =>
      [each, t(`voice.about.${each}`)]), asked.about, (each) => {
      asked.about = each;
      redraw('[name="voice-about"]:checked');
    }),
    asked.about === 'coil' ? h('p', { class: 'soft' }, t('voice.coil.is')) : h('div', { class: 'row fields' },
      field('voice-level', t(asked.about === 'strings' ? 'voice.levels.each' : 'voice.level'), asked, 'level', { placeholder: t('voice.level.full') }),
      asked.about === 'instead' ? select('by', ['', ...offered.alloys], asked) : ''),
    h('div', { class: 'row' }, go), says));
}

// One level for each position; several are as many already.
const spread = (level) => (level.includes(';') ? level
  : Array(Math.max(1, answered?.answer.positions ?? 1)).fill(level).join('; '));

function answer(shown, taken) {
  const { answer: one, about } = answered;
  return part(t(`voice.about.${about}`), shown.node,
    one.levels?.length ? choice('voice-take', t('voice.take'), one.levels.map((each) => [each, each]),
      one.levels.find((each) => wanted.levels === spread(each)) ?? '', (each) => {
        wanted.levels = spread(each);
        taken();
      }) : '');
}

// Two builds of one name are told apart by their day; two of one day by their entry.
function called(each, notes) {
  const twin = notes.some((other) => other !== each && other.name === each.name && other.day === each.day);
  return t(twin ? 'voice.like.entry' : 'voice.like', { name: each.name, day: each.day, n: each.entry });
}

const noted = (notes, redraw) => h('ul', { class: 'plain' }, notes.map((each) => h('li', {},
  h('p', {}, `${each.day}  ${each.words}`),
  h('div', { class: 'row' }, h('button', { type: 'button', 'data-like': each.name, onclick: () => {
    FIELDS.forEach((name) => { delete described[name]; });
    Object.assign(described, { shape: 'rod' }, each.said);
    redraw();
  } }, called(each, notes))))));

function past(redraw) {
  const notes = answered?.answer.past ?? [];
  return notes.length ? part(t('voice.past'), inGauss(), noted(notes, redraw)) : '';
}

// All that was noted, the newest first.
async function fillNotes(box, context, redraw) {
  try {
    const notes = await context.link.read('/voice/notes');
    box.replaceChildren(notes.length ? noted(notes.slice(0, NOTES_SHOWN), redraw)
      : h('p', {}, t('voice.notes.none')));
  } catch (error) {
    box.replaceChildren(h('p', { class: 'note bad' }, sentence(error.message)));
  }
  box.dataset.filled = 'true';
}

function bench(context) {
  const says = h('p', { role: 'status' });
  const body = () => ({ ...said(), ...wanted });
  async function plan(event) {
    event.preventDefault();
    try {
      takeUp(await reckoned(says, () => context.link.read(`/voice/plan?${query(body())}`)));
      location.hash = 'batch';
    } catch (error) {
      says.className = 'note bad';
      put(says, sentence(named(error.message).text));
    }
  }
  return part(t('voice.plan'), h('p', { class: 'soft' }, t('voice.plan.is')),
    h('form', { onsubmit: plan }, h('div', { class: 'row fields' },
      ['levels', 'tolerance', 'set', 'spread', 'reverse'].map((name) => field(`voice-${name}`,
        t(`voice.${name}`), wanted, name, { maxlength: '200' }))),
    h('div', { class: 'row' }, h('button', { class: 'first', 'data-act': 'voice-plan' },
      t('voice.plan.do'))), says));
}

// What is said of one build alone.
const ONCE = ['name', 'pickup', 'certificate', 'liked', 'said'];
const today = () => new Date().toLocaleDateString('sv');

function note(context, kept) {
  const into = draft('voice note', { day: today() });
  return part(t('voice.note'), h('p', { class: 'soft' }, t('voice.note.is')),
    h('form', { onsubmit: asking(context, '/build-notes', () => ({ ...said(), levels: wanted.levels,
      tolerance: wanted.tolerance, set: into.of ?? '', ...into }), () => {
      ONCE.forEach((each) => {
        delete into[each];
        document.getElementById(`voice-note-${each}`).value = '';
      });
      kept();
    }) },
    h('div', { class: 'row fields' },
      field('voice-note-day', t('voice.day'), into, 'day', { type: 'date' }),
      ['name', 'position', 'of', 'pickup', 'certificate', 'liked', 'said'].map((name) =>
        field(`voice-note-${name}`, t(`voice.note.${name}`), into, name, { maxlength: '200',
          inputmode: name === 'certificate' ? 'numeric' : null }))),
    h('div', { class: 'row' }, h('button', { 'data-act': 'note' }, t('voice.note.do')))));
}

// The text of a file, if it is one; nothing where a letter is no UTF-8.
async function utf8(file) {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(await file.arrayBuffer());
  } catch {
    return undefined;
  }
}

// A file of notes goes on record whole or not at all.
function notesIn(context, kept) {
  const file = h('input', { id: 'voice-notes-file', type: 'file', accept: '.csv,text/csv' });
  const says = h('p', { role: 'status' });
  async function take(event) {
    event.preventDefault();
    const chosen = file.files[0];
    const refuse = (words) => {
      says.className = 'note bad';
      put(says, words);
    };
    if (!chosen) return refuse(t('voice.notes.none.chosen'));
    const csv = chosen.size > FILE_MAX ? null : await utf8(chosen);
    if (csv === undefined) return refuse(t('voice.notes.not.utf8'));
    if (csv === null || new Blob([JSON.stringify(csv)]).size > FILE_MAX) {
      return refuse(t('voice.notes.large'));
    }
    const button = event.submitter ?? event.currentTarget;
    button.disabled = true;
    const answer = await context.ask('/build-notes/file', { name: chosen.name, csv });
    button.disabled = context.link.state.old;
    says.className = answer.done ? 'soft' : 'note bad';
    put(says, sentence(answer.sentence));
    if (!answer.done) return null;
    file.value = '';
    return kept();
  }
  return h('form', { onsubmit: take, 'data-part': 'notes-in' }, h('label', { for: 'voice-notes-file' }, t('voice.notes.file')),
    h('p', { class: 'soft' }, t('voice.notes.file.is')), file,
    h('div', { class: 'row' }, h('button', { 'data-act': 'notes-in' }, t('voice.notes.in'))), says);
}

// From a wanted voice to a level, and to the bench.
export function voice(main, context) {
  let offered = null;
  let shown = null;
  const boxes = { left: h('div', {}), right: h('div', {}) };
  const notesBox = h('div', { 'data-part': 'notes' });
  const fill = () => fillNotes(notesBox, context, () => draw('#voice-alloy'));

  function drawRight(where) {
    shown = answered ? told(answered.answer) : null;
    boxes.right.replaceChildren(
      shown ? answer(shown, () => drawBench()) : part(t('voice.answer'), h('p', {}, t('voice.none'))),
      past(() => draw('#voice-alloy')), h('div', { 'data-part': 'bench' }),
      part(t('voice.notes'), inGauss(), notesBox,
        h('div', { class: 'row' }, link('/voice/notes/csv', t('voice.notes.csv'))),
        context.mayPrepare() ? notesIn(context, fill) : ''));
    drawBench();
    if (shown) shown.draw();
    if (where) document.querySelector(where)?.focus();
  }

  function drawBench() {
    boxes.right.querySelector('[data-part="bench"]').replaceChildren(
      ...(context.mayPrepare() ? [bench(context), note(context, fill)] : [h('p', {}, t('look.only'))]));
  }

  function draw(where = '') {
    boxes.left.replaceChildren(pickup(offered, () => draw('#voice-shape')),
      question(context, offered, draw));
    if (where) document.querySelector(where)?.focus();
  }

  showAnswer = () => {
    drawRight();
    boxes.right.scrollIntoView({ block: 'start' });
  };
  main.append(h('div', { class: 'two voice' }, boxes.left, boxes.right));
  context.link.read('/voice').then((found) => {
    offered = found;
    if (!boxes.left.isConnected) return;
    draw();
    drawRight();
    fill();
  }).catch((error) => main.replaceChildren(part(t('voice.pickup'), h('p', {}, sentence(error.message)))));
  return { now: () => shown?.draw() };
}
