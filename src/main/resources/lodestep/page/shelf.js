import { h, part } from './parts.js';
import { t, flux, level, sentence } from './words.js';
import { reckoned, told } from './told.js';

// What the screens of magnets, sets, pickups, orders and lots have in common.
export const when = (wall) => new Date(wall).toLocaleString(document.documentElement.lang,
  { dateStyle: 'medium', timeStyle: 'short' });
export const day = (wall) => new Date(wall).toLocaleDateString(document.documentElement.lang,
  { dateStyle: 'medium' });

export const fact = (what, how) => [h('dt', {}, what), h('dd', {}, how)];

export const back = () => h('p', {}, h('a', { href: '#magnets' }, t('magnets.all')));

export const toThing = (kind, name, words) =>
  h('a', { href: `#magnets/${kind}/${encodeURIComponent(name)}` }, words);

export function percent(part_, signed = false) {
  const text = `${Math.abs(part_ * 100).toFixed(2)} %`;
  const sign = part_ < 0 ? '\u2212' : '+';
  return signed ? sign + text : text;
}

// A table that scrolls by itself where it is too wide; these columns hold figures. One in `blocks`
// is told row by row there instead, each figure under its heading, so that none is out of sight.
const SENTENCE = 25;

export function table(name, heads, rows, figures = [], blocks = false) {
  const of = (at) => (figures.includes(at) ? { class: 'figure' } : {});
  const as = (role) => (blocks ? { role } : {});
  // A sentence takes the width that figures share.
  const long = (each) => (blocks && each?.length > SENTENCE ? { class: 'long' } : {});
  const cell = (each, at) => h('td', { ...of(at), ...long(each), ...as('cell'), 'data-head': blocks ? heads[at] : null }, each);
  return h('div', { class: blocks ? 'wide blocks' : 'wide', tabindex: '0', role: 'region', 'aria-label': name },
    h('table', as('table'),
      h('thead', as('rowgroup'), h('tr', as('row'), heads.map((each, at) =>
        h('th', { scope: 'col', ...of(at), ...as('columnheader') }, each)))),
      h('tbody', as('rowgroup'), rows.map((row) => h('tr', as('row'), row.map(cell))))));
}

// What is typed outlives its screen until it is sent.
const drafts = new Map();
export function draft(name, usual = {}) {
  if (!drafts.has(name)) drafts.set(name, { ...usual });
  return drafts.get(name);
}
export const sent = (name) => drafts.delete(name);

export function field(id, label, into, name, more = {}) {
  return h('div', {}, h('label', { for: id }, label), h('input', { id, autocomplete: 'off',
    value: into[name] ?? '', ...more, oninput: (event) => { into[name] = event.target.value; } }));
}

// Asks, says what came of it beside the button, and goes on when it was done.
export function asking(context, path, body, goOn) {
  return async (event) => {
    event.preventDefault();
    const button = event.submitter ?? event.currentTarget;
    button.disabled = true;
    const answer = await context.ask(path, body());
    button.disabled = context.link.state.old;
    if (answer.done) goOn(answer);
  };
}

export const link = (path, words) =>
  h('a', { class: 'button', href: `/api/v1${path}`, download: '' }, words);

// Certificates and labels of a thing: those made out, and, for who may, another one.
export function paper(context, thing, certificates = null) {
  const list = h('ul', { class: 'plain' });
  const entry = (one) => h('li', {}, h('div', { class: 'row' },
    h('span', {}, one.wall ? t('paper.of', { n: one.entry, when: when(one.wall) })
      : t('paper.entry', { n: one.entry })),
    link(`/certificates/${one.entry}/pdf`, t('paper.get'))));
  (certificates ?? []).forEach((one) => list.append(entry(one)));
  return h('div', {},
    h('div', { class: 'row' },
      context.mayPrepare() ? h('button', { type: 'button', 'data-act': 'certificate',
        onclick: asking(context, '/certificates', () => ({ of: thing.of }),
          (answer) => list.prepend(entry(answer))) }, t('paper.make')) : null,
      link(`/labels/pdf?of=${encodeURIComponent(thing.of)}`, t('paper.labels'))),
    list);
}

// A magnet that will never be used, with what happened to it.
export function scrap(context, magnet, goOn = () => {}) {
  const name = `scrap ${magnet.magnet}`;
  const into = draft(name, { why: '' });
  const box = h('details', { class: 'scrap', open: Boolean(into.why), 'data-scrap': magnet.name },
    h('summary', {}, t('scrap')),
    h('form', { onsubmit: asking(context, '/scraps', () => ({ magnet: magnet.magnet, why: into.why }),
      (answer) => {
        sent(name);
        box.replaceWith(h('p', { class: 'bad' }, sentence(answer.sentence)));
        goOn();
      }) },
    field(`why-${magnet.magnet}`, t('scrap.why'), into, 'why', { maxlength: '200' }),
    h('div', { class: 'row' }, h('button', { 'data-act': 'scrap' }, t('scrap.do', { name: magnet.name })))));
  return box;
}

// What befell it after its verdict, and what was written down wrongly of it.
export function mend(context, magnet, goOn) {
  const note = draft(`note ${magnet.magnet}`, { what: 'drop', said: '' });
  const wrong = draft(`wrong ${magnet.magnet}`, { field: 'name', value: '', why: '' });
  const pick = (id, label, into, name, of, word) => h('div', {}, h('label', { for: id }, label),
    h('select', { id, onchange: (event) => { into[name] = event.target.value; } },
      of.map((each) => h('option', { value: each, selected: into[name] === each }, word(each)))));
  const done = (name) => () => { sent(`${name} ${magnet.magnet}`); goOn(); };
  return [
    h('details', { open: Boolean(note.said), 'data-mend': 'note' }, h('summary', {}, t('note')),
      h('p', { class: 'soft' }, t('note.is')),
      h('form', { onsubmit: asking(context, '/notes', () => ({ magnet: magnet.magnet, ...note }), done('note')) },
        h('div', { class: 'row' }, pick('note-what', t('note.what'), note, 'what', ['heat', 'drop', 'knock'],
          (each) => t(`note.kind.${each}`)),
          field('note-said', t('note.said'), note, 'said', { maxlength: '200' })),
        h('div', { class: 'row' }, h('button', { 'data-act': 'note' }, t('note.do'))))),
    h('details', { open: Boolean(wrong.value), 'data-mend': 'correct' }, h('summary', {}, t('wrong')),
      h('p', { class: 'soft' }, t('wrong.is')),
      h('form', { onsubmit: asking(context, '/corrections', () => ({ magnet: magnet.magnet, ...wrong }),
        done('wrong')) },
      h('div', { class: 'row' },
        pick('wrong-field', t('wrong.field'), wrong, 'field', ['name', 'set', 'lot', 'alloy', 'place'],
          (each) => t(`wrong.kind.${each}`)),
        field('wrong-value', t('wrong.value'), wrong, 'value', { maxlength: '60' }),
        field('wrong-why', t('wrong.why'), wrong, 'why', { maxlength: '200' })),
      h('div', { class: 'row' }, h('button', { 'data-act': 'correct' }, t('wrong.do')))))];
}

const levelOf = (each) => (each.tesla === undefined ? '' : level(each.tesla));

// As they were described on the screen of voices; what is empty there is left to the set's own note.
const ABOVE = ['distance', 'strings', 'pitch', 'scale', 'fromBridge', 'poles', 'arranged', 'keeper'];
const stringsSaid = () => new URLSearchParams(ABOVE.map((name) => [name, draft('voice')[name] ?? ''])
  .filter(([, value]) => value)).toString();

// What the levels that were reached mean to the strings; worked out when it is asked for.
function meaning(context, name) {
  const body = h('div', { role: 'status' });
  const box = part(t('reached'), h('p', { class: 'soft' }, t('reached.is')), body,
    h('div', { class: 'row' }, h('button', { type: 'button', 'data-act': 'reached',
      onclick: async (event) => {
        const button = event.currentTarget;
        button.disabled = true;
        try {
          const says = h('p', {});
          body.replaceChildren(says);
          const seen = await reckoned(says, () => context.link.read(
            `/voice/reached?name=${encodeURIComponent(name)}&${stringsSaid()}`));
          const shown = told(seen);
          body.replaceChildren(h('p', { class: 'soft' }, t(seen.by ? 'reached.by' : 'reached.for',
            { name: seen.by, distance: seen.distance, strings: seen.strings })), shown.node);
        } catch (error) {
          body.replaceChildren(h('p', { class: 'note bad' }, sentence(error.message)));
        }
        button.disabled = context.link.state.old;
      } }, t('reached.do'))));
  return box;
}

// A set: its magnets in the order of its positions, what goes on paper, and a pickup made of it.
export async function set(main, context, name) {
  const seen = await context.link.read(`/sets?name=${encodeURIComponent(name)}`);
  const accepted = seen.magnets.length && seen.magnets.every((each) => each.verdict === 'accepted');
  main.replaceChildren(back(),
    part(t('thing.set', { name: seen.name }),
      table(t('set.table'), [t('sets.magnet'), t('magnet.kind'), t('magnet.asked'), t('sets.reads'),
        t('magnet.verdict')], seen.magnets.map((each) => [
        h('a', { href: `#magnets/${each.magnet}` }, each.name), each.kind,
        `${flux(Math.abs(each.targetTesla))} \u00b1 ${flux(each.toleranceTesla)}, ${t(`pole.${each.pole}`)}`,
        levelOf(each), each.verdict ?? t('magnet.open')]), [2, 3])),
    accepted ? meaning(context, seen.name) : '',
    part(t('paper'), accepted ? paper(context, { of: seen.name }, seen.certificates)
      : h('p', {}, t('paper.not'))),
    seen.pickups.length ? part(t('build.is.in'), h('ul', { class: 'plain' }, seen.pickups.map((each) =>
      h('li', {}, toThing('pickup', each.pickup, each.name)))))
      : context.mayPrepare() && accepted ? build(context, seen) : '');
}

function build(context, seen) {
  const key = `build ${seen.name}`;
  const into = draft(key, { name: '', order: '', winding: '', poles: '' });
  return part(t('build'), h('p', { class: 'soft' }, t('build.is')),
    h('form', { onsubmit: asking(context, '/pickups', () => ({ of: seen.name, ...into }), (answer) => {
      sent(key);
      location.hash = `magnets/pickup/${answer.entry}`;
    }) },
    h('div', { class: 'row' },
      field('build-name', t('build.name'), into, 'name', { maxlength: '40' }),
      field('build-order', t('build.order'), into, 'order', { maxlength: '40' }),
      field('build-winding', t('build.winding'), into, 'winding', { maxlength: '200' }),
      seen.magnets.length === 1
        ? field('build-poles', t('build.poles'), into, 'poles', { inputmode: 'numeric' }) : ''),
    h('div', { class: 'row' }, h('button', { class: 'first', 'data-act': 'build' }, t('build.do')))));
}
