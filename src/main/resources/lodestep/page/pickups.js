import { h, part, put } from './parts.js';
import { t, flux, level, sentence, told } from './words.js';
import { asking, back, day, draft, fact, field, link, paper, percent, sent, table, toThing, when }
  from './shelf.js';

const poleName = (pole, of) => {
  if (of > 1 && pole === 1) return t('pole.lowest', { pole });
  return of > 1 && pole === of ? t('pole.highest', { pole }) : t('pole.nth', { pole });
};

// Its pole tops, a row a pole and a column a round.
function tops(seen) {
  const rows = Array.from({ length: seen.poles }, (_, at) => [poleName(at + 1, seen.poles),
    ...seen.rounds.map((round) => {
      const read = round.poles.find((each) => each.pole === at + 1);
      return read ? level(read.tesla) : t('pole.unread');
    })]);
  return table(t('pickup.tops'), [t('pole'), ...seen.rounds.map((each) =>
    `${t(`stage.${each.stage}`)}, ${day(each.wall)}`)], rows,
  seen.rounds.map((each, at) => at + 1));
}

// What is being read: pole after pole, with what the gauge shows now.
function reading(context, seen) {
  const live = h('p', { class: 'big figures', 'aria-live': 'off' });
  const list = h('ol', { class: 'plain' });
  const box = part(t('reading.part', { name: seen.name }), h('p', { class: 'soft' }, t('reading.step')),
    live, list);
  const then = seen.rounds.find((each) => each.whole && each.stage === 'as built')
    ?? seen.rounds.find((each) => each.whole && each.stage === 'as found');
  let shown = '';

  function line(poles, at) {
    const read = poles.read[at];
    const now = at === poles.read.length && !poles.over;
    const before = then?.poles.find((each) => each.pole === at + 1);
    return h('li', { 'data-state': now ? 'working' : null }, h('div', { class: 'magnet' },
      h('div', {}, h('strong', {}, poleName(at + 1, poles.of)),
        before ? h('div', { class: 'soft figures' }, t('reading.then', { level: level(before.tesla) })) : null),
      h('span', { class: 'figures' }, read
        ? t('reading.read', { level: level(read.tesla), u: flux(2 * read.u) })
        : t(now ? 'reading.now' : 'reading.open'))));
  }

  return {
    box,
    show(poles, now) {
      put(live, now?.reading?.tesla === undefined || !now.reading.zeroed ? t('reading.unzeroed.short')
        : level(now.reading.tesla));
      const key = JSON.stringify(poles);
      if (key === shown) return;
      shown = key;
      list.replaceChildren(...Array.from({ length: poles.of }, (_, at) => line(poles, at)));
    },
  };
}

// What to have ready before a pickup is read, and the way to begin.
function beginning(context, seen, tell) {
  const key = `read ${seen.pickup}`;
  const into = draft(key, { seat: seen.seat, spacer: seen.spacer, virtualField: '' });
  const fresh = !seen.rounds.length;
  const begin = (as) => asking(context, '/readings',
    () => ({ pickup: seen.pickup, as, ...into }), () => { sent(key); tell(); });
  const virtual = context.link.state.now?.virtual;
  return h('div', {},
    h('ol', { class: 'steps' }, ['seat', 'away', 'zero', 'poles', 'verdict'].map((each) =>
      h('li', {}, t(`return.step.${each}`)))),
    h('p', { class: 'note' }, t('return.caution')),
    h('p', {}, t(`return.against.${seen.against}`)),
    h('div', { class: 'row' },
      field('read-seat', t('return.seat'), into, 'seat', { maxlength: '40' }),
      field('read-spacer', t('return.spacer'), into, 'spacer', { inputmode: 'text' }),
      virtual ? field('read-field', t('return.virtual'), into, 'virtualField',
        { placeholder: t('plan.may') }) : ''),
    h('div', { class: 'row' },
      h('button', { type: 'button', class: fresh ? null : 'first', 'data-act': 'return',
        onclick: begin('returned') }, t('return.begin')),
      fresh ? h('button', { type: 'button', class: 'first', 'data-act': 'as-built',
        onclick: begin('built') }, t('return.built')) : ''));
}

const judgedLine = (each) => h('li', {}, h('div', { class: 'magnet' },
  h('div', {}, toThing('return', each.entry, t('return.of', { day: day(each.wall) }))),
  h('strong', { class: each.verdict === 'unchanged' ? 'good' : 'mind' }, t(`verdict.${each.verdict}`))));

export function pickup(main, context, number) {
  const check = h('div', {});
  const reads = h('div', {});
  let seen = null;
  let read = null;
  let stage = '';

  // Which of the steps it is at: form, reading, judging.
  function step(bench, now) {
    if (!seen) return;
    const poles = bench?.poles?.pickup === seen.pickup ? bench.poles : null;
    const going = poles && !poles.over;
    const next = going ? 'reading' : seen.toJudge ? 'judge' : 'form';
    if (stage === 'reading' && next !== 'reading') {
      stage = '';
      load();
      return;
    }
    if (going) read?.show(poles, now);
    if (stage === next) return;
    stage = next;
    if (next === 'reading') {
      read = reading(context, seen);
      read.show(poles, now);
      check.replaceChildren();
      reads.replaceChildren(read.box);
      return;
    }
    reads.replaceChildren();
    const judge = h('button', { type: 'button', class: 'first', 'data-act': 'judge',
      onclick: asking(context, '/returns', () => ({ pickup: seen.pickup }),
        (answer) => { location.hash = `magnets/return/${answer.entry}`; }) }, t('return.judge'));
    check.replaceChildren(part(t('return'),
      seen.judged.length ? h('ul', { class: 'plain' }, seen.judged.map(judgedLine)) : '',
      !context.mayPrepare() ? h('p', {}, t('look.only'))
        : next === 'judge' ? h('div', {}, h('p', {}, t('return.ready')), h('div', { class: 'row' }, judge))
          : beginning(context, seen, () => {})));
  }

  async function load() {
    seen = await context.link.read(`/pickups/${number}`);
    const words = [seen.winding, seen.said].filter(Boolean);
    main.replaceChildren(back(), reads,
      part(t('thing.pickup', { name: seen.name }),
        h('dl', {},
          fact(t('magnet.number'), String(seen.pickup)),
          fact(t('pickup.since'), day(seen.wall)),
          fact(t('pickup.poles'), String(seen.poles)),
          seen.order ? fact(t('build.order'), toThing('order', seen.order, seen.order)) : [],
          words.length ? fact(t('build.winding'), words.join('; ')) : []),
        seen.magnets.length ? h('ul', { class: 'plain' }, seen.magnets.map((each) => h('li', {},
          h('div', { class: 'magnet' }, h('a', { href: `#magnets/${each.magnet}` }, each.name),
            h('span', { class: 'figures' }, each.tesla === undefined ? '' : level(each.tesla)))))) : ''),
      check,
      seen.rounds.length ? part(t('pickup.tops'), tops(seen)) : '',
      part(t('paper'), paper(context, { of: String(seen.pickup) }, seen.certificates)));
    stage = '';
    step(context.link.state.bench, context.link.state.now);
  }

  const screen = {
    bench: (bench, now) => step(bench, now),
    now: (now) => {
      if (stage === 'reading') step(context.link.state.bench, now);
    },
    loaded: load(),
  };
  return screen;
}

// The verdict of a return check, with its odds, and what to tell the customer.
export async function returned(main, context, entry) {
  const seen = await context.link.read(`/returns/${entry}`);
  const odds = (each) => [percent(each.change, true), `\u00b1 ${percent(2 * each.u)}`,
    percent(each.unchanged), percent(each.lost), percent(each.gained)];
  main.replaceChildren(
    h('p', {}, toThing('pickup', seen.pickup, t('return.back', { name: seen.name }))),
    part(t('return.title', { name: seen.name }),
      h('p', { class: 'big' }, t(`verdict.big.${seen.verdict}`)),
      h('p', {}, sentence(told(seen.why))),
      seen.taken ? h('p', {}, sentence(told(seen.taken))) : '',
      h('h3', {}, t('return.customer')),
      h('blockquote', {}, told(seen.customer)),
      h('div', { class: 'row' }, link(`/returns/${seen.entry}/pdf`, t('return.pdf')))),
    part(t('return.readings', { then: when(seen.then), now: when(seen.now) }),
      table(t('return.table'), [t('pole'), t('return.then'), t('return.now'), t('return.change'),
        t('return.u'), t('verdict.unchanged'), t('verdict.lost'), t('verdict.gained')],
      [...seen.poles.map((each) => [String(each.pole), level(each.thenTesla), level(each.nowTesla),
        ...odds(each)]), [t('return.all'), '', '', ...odds(seen.mean)]], [1, 2, 3, 4, 5, 6, 7], true),
      h('p', { class: 'soft' }, told(seen.how))));
}
