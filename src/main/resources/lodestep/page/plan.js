import { h, part, put } from './parts.js';
import { t, sentence, told } from './words.js';

const EMPTY = { name: '', set: '', spread: '', alloy: '', shape: 'rod', size: '', nest: '', poleUp: 'north',
  target: '', tolerance: '', count: '1', lot: '' };

export function choice(name, label, options, value, onchange) {
  return h('fieldset', {}, h('legend', {}, label), options.map(([each, words]) => h('label', {
    class: 'choice',
  }, h('input', {
    type: 'radio', name, value: each, checked: each === value, onchange: () => onchange(each),
  }), h('span', {}, words))));
}

// A figure with its unit, made larger and smaller by touch or typed.
function stepped(id, label, value, step, unit, onchange) {
  const input = h('input', { id, inputmode: 'decimal', value, autocomplete: 'off',
    oninput: () => onchange(input.value) });
  const by = (sign) => {
    const figure = Number.parseFloat(input.value) || 0;
    const rest = (input.value.match(/[a-zA-Z%µ ]+$/) ?? [''])[0].trim() || unit;
    const next = Math.max(step, Math.round((figure + sign * step) * 10) / 10);
    input.value = rest ? `${next} ${rest}` : `${next}`;
    onchange(input.value);
  };
  return h('div', {}, h('label', { for: id }, label), h('div', { class: 'step' },
    h('button', { type: 'button', 'aria-label': t('less', { what: label }), onclick: () => by(-1) }, '\u2212'),
    input,
    h('button', { type: 'button', 'aria-label': t('more', { what: label }), onclick: () => by(1) }, '+')));
}

// What is being planned outlives its screen: neither a switch nor a look elsewhere wipes it.
const draft = { plan: null, at: 0 };

// A plan taken up from elsewhere, as for a magnet that is done again.
export function takeUp(plan) {
  draft.plan = structuredClone(plan);
  draft.at = 0;
}

// A plan put together by touch; what this rig can do of it is said while it is chosen.
// `one` is a magnet worked by hand: a row at a time, without count and set.
export function planner(context, kind = { title: 'plan', path: '/batches', begin: 'plan.begin' }) {
  const rig = context.rigSays();
  const said = h('div', { role: 'status' });
  const begin = h('button', { type: 'button', class: 'first', 'data-act': kind.one ? 'begin-by-hand' : 'begin' },
    t(kind.begin));
  const rowsBox = h('div', {});
  const recent = h('div', {});
  const box = part(t(kind.title), recent, rowsBox, said,
    kind.one ? '' : h('p', { class: 'note' }, t('says.caution.all.1')), h('div', { class: 'row' }, begin));
  draft.plan ??= { name: '', rows: [{ ...EMPTY, name: 'magnet', alloy: rig.alloys[0] }] };
  let timer = 0;
  let asked = 0;
  const plan = () => (kind.one
    ? { name: draft.plan.name, rows: [{ ...draft.plan.rows[draft.at], count: '1', set: '', spread: '' }] }
    : draft.plan);

  async function check() {
    const mine = ++asked;
    const found = await context.link.check(plan());
    if (mine !== asked) return;
    begin.dataset.dead = String(found.errors.length > 0);
    begin.disabled = found.errors.length > 0 || context.link.state.old;
    said.replaceChildren(
      // What is still empty is no mistake before anybody has typed.
      ...found.errors.map((each) => h('p', { class: draft.touched ? 'note bad' : 'soft' }, sentence(told(each)))),
      ...(kind.one ? [] : found.doubts).map((each) => h('p', { class: 'note' }, t('plan.mind', { what: told(each) }))),
      // Each begins with a magnet's name, which keeps its letters.
      ...found.rows.map((each) => h('p', { class: 'soft' }, `${told(each)}.`)));
  }

  function changed() {
    clearTimeout(timer);
    begin.dataset.dead = 'true';
    begin.disabled = true;
    timer = setTimeout(check, 250);
  }

  function set(field, value) {
    draft.plan.rows[draft.at][field] = value;
    draft.touched = true;
    const mine = field === 'name' && rowsBox.querySelector('[name="row"]:checked + span');
    if (mine) put(mine, value || t('plan.row', { n: draft.at + 1 }));
    changed();
  }

  function nestsFor(shape) {
    return rig.nests.filter((each) => each.shape === shape).map((each) => [each.name, each.name]);
  }

  function drawRow() {
    const row = draft.plan.rows[draft.at];
    const shapes = [...new Set(rig.nests.map((each) => each.shape))];
    const shape = row.shape.startsWith('bar') ? 'bar' : row.shape;
    const nests = nestsFor(shape);
    if (nests.length > 1 && !nests.some(([name]) => name === row.nest)) row.nest = nests[0][0];
    const text = (id, label, field, hint) => h('div', {},
      h('label', { for: id }, label),
      h('input', { id, value: row[field], placeholder: hint, autocomplete: 'off',
        oninput: (event) => set(field, event.target.value) }));
    rowsBox.replaceChildren(
      draft.plan.rows.length > 1 ? choice('row', t('plan.rows'),
        draft.plan.rows.map((each, index) => [String(index), each.name || t('plan.row', { n: index + 1 })]),
        String(draft.at), (index) => { draft.at = Number(index); drawRow(); if (kind.one) changed(); }) : '',
      text('plan-name', t('plan.name'), 'name', ''),
      choice('alloy', t('plan.alloy'), rig.alloys.map((each) => [each, each]), row.alloy,
        (value) => set('alloy', value)),
      choice('shape', t('plan.shape'), shapes.map((each) => [each, t(`shape.${each}`)]), shape,
        (value) => { set('shape', value); set('nest', ''); drawRow(); }),
      text('plan-size', t('plan.size'), 'size', t(`size.${shape}`)),
      nests.length > 1
        ? choice('nest', t('plan.nest'), nests, row.nest, (value) => set('nest', value)) : '',
      choice('pole', t('plan.pole'), [['north', t('pole.north')], ['south', t('pole.south')]],
        row.poleUp, (value) => set('poleUp', value)),
      h('div', { class: 'row' },
        stepped('plan-target', t('plan.target'), row.target, 10, 'G', (value) => set('target', value)),
        stepped('plan-tolerance', t('plan.tolerance'), row.tolerance, 1, 'G',
          (value) => set('tolerance', value)),
        kind.one ? '' : stepped('plan-count', t('plan.count'), row.count, 1, '',
          (value) => set('count', value))),
      h('div', { class: 'row' },
        kind.one ? '' : text('plan-set', t('plan.set'), 'set', t('plan.may')),
        kind.one ? '' : text('plan-spread', t('plan.spread'), 'spread', t('plan.may')),
        text('plan-lot', t('plan.lot'), 'lot', t('plan.may'))),
      kind.one ? '' : h('div', { class: 'row' },
        h('button', { type: 'button', 'data-act': 'add-row', onclick: () => {
          draft.plan.rows.push({ ...draft.plan.rows[draft.at], name: `${draft.plan.rows[draft.at].name}-${draft.plan.rows.length + 1}` });
          draft.at = draft.plan.rows.length - 1;
          drawRow();
          changed();
        } }, t('plan.add')),
        draft.plan.rows.length > 1 ? h('button', { type: 'button', onclick: () => {
          draft.plan.rows.splice(draft.at, 1);
          draft.at = Math.max(0, draft.at - 1);
          drawRow();
          changed();
        } }, t('plan.remove')) : ''));
  }

  async function load() {
    const plans = (await context.link.read('/plans')).filter((each) => !each.sample);
    if (!plans.length) return;
    recent.replaceChildren(h('h3', {}, t('plan.recent')), h('div', { class: 'row' },
      plans.map((each, index) => h('button', { type: 'button', 'data-recent': index, onclick: () => {
        takeUp(each);
        changed();
        drawRow();
      } }, t('plan.again', { name: each.name, n: each.rows.length })))));
  }

  begin.addEventListener('click', async () => {
    const answer = await context.ask(kind.path, plan());
    if (!answer.done || !kind.one) return;
    // A plan of several is worked row by row.
    draft.at = Math.min(draft.at + 1, draft.plan.rows.length - 1);
    drawRow();
    changed();
    kind.then();
  });
  drawRow();
  changed();
  load();
  return {
    box,
    show() {
      drawRow();
      changed();
    },
  };
}
