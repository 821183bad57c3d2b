import { h, part, put } from './parts.js';
import { t, flux, sentence } from './words.js';

const EMPTY = { name: '', set: '', alloy: '', shape: 'rod', size: '', nest: '', poleUp: 'north',
  target: '', tolerance: '', count: '1', lot: '' };

// A batch under way: each magnet with its state, and what to do with one that was not accepted.
function running(context) {
  const head = h('p', { class: 'soft' });
  const list = h('ol', { class: 'plain' });
  const box = part(t('batch.magnets'), head, list);
  const state = (each) => h('span', {
    class: `state ${{ accepted: 'good', refused: 'bad', recharge_needed: 'mind' }[each.state] ?? ''}`,
  }, t(`state.${each.state}`));

  function line(each) {
    const read = each.tesla === undefined ? '' : `, ${t('batch.reads', { level: flux(Math.abs(each.tesla)) })}`;
    return h('li', { 'data-state': each.state },
      h('div', { class: 'magnet' },
        h('div', {},
          each.magnet ? h('a', { href: `#magnets/${each.magnet}` }, h('strong', {}, each.name))
            : h('strong', {}, each.name),
          h('div', { class: 'soft figures' },
            `${t('batch.asked', { target: each.target, tolerance: each.tolerance })}${read}`)),
        state(each),
        each.why && each.state !== 'accepted' ? h('p', { class: 'why' }, sentence(each.why)) : null,
        each.advice ? h('p', { class: 'why' }, h('strong', {}, t('advice'), ' '),
          t(`advice.${each.advice}`)) : null));
  }

  return {
    box,
    show(batch) {
      box.querySelector('h2').textContent = batch.name;
      put(head, t('batch.count', { accepted: batch.accepted, refused: batch.refused, open: batch.open }));
      list.replaceChildren(...batch.magnets.map(line));
      const held = list.querySelector('[data-state="working"], [data-state="next"]');
      if (held && !context.scrolled) context.scrolled = true;
    },
  };
}

function choice(name, label, options, value, onchange) {
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

// A plan put together by touch; what this rig can do of it is said while it is chosen.
function planner(context) {
  const rig = context.rigSays();
  const said = h('div', { role: 'status' });
  const begin = h('button', { type: 'button', class: 'first', 'data-act': 'begin' }, t('plan.begin'));
  const rowsBox = h('div', {});
  const recent = h('div', {});
  const box = part(t('plan'), recent, rowsBox, said, h('div', { class: 'row' }, begin));
  let plan = { name: '', rows: [{ ...EMPTY, name: 'magnet', alloy: rig.alloys[0] }] };
  let at = 0;
  let timer = 0;
  let asked = 0;

  async function check() {
    const mine = ++asked;
    const found = await context.link.check(plan);
    if (mine !== asked) return;
    begin.dataset.dead = String(found.errors.length > 0);
    begin.disabled = found.errors.length > 0 || context.link.state.old;
    said.replaceChildren(
      ...found.errors.map((each) => h('p', { class: 'note bad' }, sentence(each))),
      ...found.doubts.map((each) => h('p', { class: 'note' }, t('plan.mind', { what: each }))),
      ...found.rows.map((each) => h('p', { class: 'soft' }, sentence(each))));
  }

  function changed() {
    clearTimeout(timer);
    begin.dataset.dead = 'true';
    begin.disabled = true;
    timer = setTimeout(check, 250);
  }

  function set(field, value) {
    plan.rows[at][field] = value;
    changed();
  }

  function nestsFor(shape) {
    return rig.nests.filter((each) => each.shape === shape).map((each) => [each.name, each.name]);
  }

  function drawRow() {
    const row = plan.rows[at];
    const shapes = [...new Set(rig.nests.map((each) => each.shape))];
    const shape = row.shape.startsWith('bar') ? 'bar' : row.shape;
    const nests = nestsFor(shape);
    if (nests.length > 1 && !nests.some(([name]) => name === row.nest)) row.nest = nests[0][0];
    const text = (id, label, field, hint) => h('div', {},
      h('label', { for: id }, label),
      h('input', { id, value: row[field], placeholder: hint, autocomplete: 'off',
        oninput: (event) => set(field, event.target.value) }));
    rowsBox.replaceChildren(
      plan.rows.length > 1 ? choice('row', t('plan.rows'),
        plan.rows.map((each, index) => [String(index), each.name || t('plan.row', { n: index + 1 })]),
        String(at), (index) => { at = Number(index); drawRow(); }) : '',
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
        stepped('plan-count', t('plan.count'), row.count, 1, '', (value) => set('count', value))),
      h('div', { class: 'row' },
        h('button', { type: 'button', onclick: () => {
          plan.rows.push({ ...plan.rows[at], name: `${plan.rows[at].name}-${plan.rows.length + 1}` });
          at = plan.rows.length - 1;
          drawRow();
          changed();
        } }, t('plan.add')),
        plan.rows.length > 1 ? h('button', { type: 'button', onclick: () => {
          plan.rows.splice(at, 1);
          at = Math.max(0, at - 1);
          drawRow();
          changed();
        } }, t('plan.remove')) : ''));
  }

  async function load() {
    const plans = await context.link.read('/plans');
    if (!plans.length) return;
    recent.replaceChildren(h('h3', {}, t('plan.recent')), h('div', { class: 'row' },
      plans.map((each, index) => h('button', { type: 'button', 'data-recent': index, onclick: () => {
        plan = structuredClone(each);
        at = 0;
        changed();
        drawRow();
      } }, t('plan.again', { name: each.name, n: each.rows.length })))));
  }

  begin.addEventListener('click', () => context.ask('/batches', plan));
  drawRow();
  changed();
  load();
  return { box };
}

export function batch(main, context) {
  const work = running(context);
  const form = context.mayPrepare() ? planner(context) : null;
  const only = part(t('plan'), h('p', {}, t('look.only')));
  return {
    bench(seen, now) {
      const free = !now || now.phase === 'idle' || now.phase === 'done';
      const parts = [];
      if (seen.batch) {
        work.show(seen.batch);
        parts.push(work.box);
      }
      if (free) parts.push(form ? form.box : only);
      const same = parts.length === main.children.length
        && parts.every((each, index) => main.children[index] === each);
      if (!same) main.replaceChildren(...parts);
    },
    now(seen) {
      const free = seen.phase === 'idle' || seen.phase === 'done';
      const there = form && form.box.isConnected;
      if (form && free !== Boolean(there) && context.link.state.bench) {
        this.bench(context.link.state.bench, seen);
      }
    },
  };
}
