import { h, part, put } from './parts.js';
import { t, flux, level, sentence, told } from './words.js';
import { planner, takeUp } from './plan.js';
import { paper, percent, scrap, table, toThing } from './shelf.js';

// A batch under way: each magnet with its state, and what to do with one that was not accepted.
function running(context, again) {
  const head = h('p', { class: 'soft' });
  const of = h('p', {});
  const list = h('ol', { class: 'plain' });
  const box = part(t('batch.magnets'), head, of, list);
  const state = (each) => h('span', {
    class: `state ${{ accepted: 'good', refused: 'bad', recharge_needed: 'mind' }[each.state] ?? ''}`,
  }, t(`state.${each.state}`));
  let free = false;
  let shown = '';

  const advice = (batch, each) => h('div', { class: 'why' },
    h('p', {}, h('strong', {}, t('advice'), ' '), t(`advice.${each.advice}`)),
    context.mayPrepare() && each.magnet && each.state !== 'tripped' ? h('div', { class: 'row' },
      free ? h('button', { type: 'button', 'data-again': each.name,
        onclick: () => again(batch, each) }, t('advice.again.do')) : null,
      scrap(context, each)) : null);

  // A level as the switch has it; what is no level is told as it was planned.
  const asked = (each) => t('batch.asked', each.targetTesla === undefined ? each
    : { target: level(each.targetTesla), tolerance: flux(each.toleranceTesla) });

  function line(batch, each) {
    const read = each.tesla === undefined ? '' : `, ${t('batch.reads', { level: flux(Math.abs(each.tesla)) })}`;
    return h('li', { 'data-state': each.state },
      h('div', { class: 'magnet' },
        h('div', {},
          each.magnet ? h('a', { href: `#magnets/${each.magnet}` }, h('strong', {}, each.name))
            : h('strong', {}, each.name),
          h('div', { class: 'soft figures' },
            `${asked(each)}${read}`)),
        state(each),
        each.why && each.state !== 'accepted' ? h('p', { class: 'why' }, sentence(told(each.why))) : null,
        each.advice ? advice(batch, each) : null));
  }

  return {
    box,
    show(batch, nothingElse) {
      free = nothingElse;
      box.querySelector('h2').textContent = batch.name;
      put(head, t('batch.count', { accepted: batch.accepted, refused: batch.refused, open: batch.open }));
      of.hidden = !batch.sampled;
      of.replaceChildren(batch.sampled ? toThing('lot', batch.sampled, t('sample.reads', { lot: batch.sampled })) : '');
      // What is typed beside a magnet stays while nothing of it has changed.
      const key = JSON.stringify([batch.magnets, free]);
      if (key === shown) return;
      shown = key;
      list.replaceChildren(...batch.magnets.map((each) => line(batch, each)));
    },
  };
}

// Which accepted magnets go to which positions, once the batch is over.
function sets(context) {
  const body = h('div', {});
  const box = part(t('sets'), body);
  let asked = '';

  const place = (each) => [
    each.position,
    flux(Math.abs(each.targetTesla)),
    each.magnet ? h('a', { href: `#magnets/${each.magnet}` }, each.name) : t('sets.none'),
    each.magnet ? flux(Math.abs(each.tesla)) : '',
    each.magnet ? percent(each.off, true) : '',
    each.magnet ? t(`sets.${each.todo}`) + (each.unlike ? t('sets.unlike') : '') : '',
  ];

  const one = (set) => h('div', { class: 'set' },
    h('h3', {}, set.set ? toThing('set', set.set, set.set) : t('sets.nameless')),
    h('p', { class: 'soft' }, t('sets.said', { fitting: set.fitting, positions: set.positions,
      spread: set.asked === undefined ? percent(set.spread)
        : t('sets.spread', { spread: percent(set.spread), asked: percent(set.asked) }),
      worst: percent(set.worst) })),
    set.roomLeast === undefined ? '' : h('p', { class: 'soft' },
      t('sets.room', { least: percent(set.roomLeast, true), most: percent(set.roomMost, true) })),
    table(t('sets.table', { set: set.set || t('sets.nameless') }),
      [t('sets.position'), t('sets.target'), t('sets.magnet'), t('sets.reads'), t('sets.off'),
        t('sets.todo')], set.places.map(place), [1, 3, 4], true),
    !set.set ? '' : set.fitting === set.positions ? paper(context, { of: set.set })
      : h('p', {}, t('paper.not')));

  async function show(batch) {
    const key = `${batch.number} ${batch.accepted}`;
    if (key === asked || !batch.accepted) return;
    asked = key;
    try {
      const match = await context.link.read(`/batches/${batch.number}/match`);
      body.replaceChildren(...match.sets.map(one));
    } catch (error) {
      body.replaceChildren(h('p', {}, sentence(error.message)));
    }
  }
  return { box, show };
}

export function batch(main, context) {
  if (!context.rigSays().drives) {
    main.append(part(t('alone'), h('p', {}, t('alone.batch')),
      h('p', {}, h('a', { class: 'button', href: '#gauge' }, t('alone.gauge')))));
    return {};
  }
  const form = context.mayPrepare() ? planner(context) : null;

  // The row of its plan once more, for this magnet alone.
  async function again(done, each) {
    const plans = await context.link.read('/plans');
    const row = plans.flatMap((plan) => plan.rows).find((one) => each.name === one.name
      || (each.name.startsWith(`${one.name}.`) && /^\d+$/.test(each.name.slice(one.name.length + 1))));
    if (!row) return context.tellOnce(t('advice.gone'));
    takeUp({ name: done.name, rows: [{ ...row, name: `${each.name}-again`, count: '1' }] });
    form.show();
    form.box.scrollIntoView();
    return form.box.querySelector('#plan-name').focus();
  }

  const work = running(context, again);
  const over = sets(context);
  const only = part(t('plan'), h('p', {}, t('look.only')));
  return {
    bench(seen, now) {
      const free = !now || now.phase === 'idle' || now.phase === 'done';
      const parts = [];
      if (seen.batch) {
        work.show(seen.batch, free);
        parts.push(work.box);
        if (seen.batch.open === 0 && seen.batch.accepted && !seen.batch.sampled) {
          parts.push(over.box);
          over.show(seen.batch);
        }
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
