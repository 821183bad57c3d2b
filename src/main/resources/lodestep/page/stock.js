import { h, part } from './parts.js';
import { t, flux, sentence } from './words.js';
import { asking, back, day, draft, fact, field, paper, percent, sent, table, toThing } from './shelf.js';

// What came in, as the supplier says it.
function lotIn(context) {
  const alloys = context.rigSays().alloys;
  const into = draft('lot', { lot: '', quantity: '', alloy: '', supplier: '', said: '' });
  return part(t('stock.in'), h('p', { class: 'soft' }, t('stock.in.is')),
    h('form', { onsubmit: asking(context, '/lots', () => into, (answer) => {
      const name = into.lot.trim();
      sent('lot');
      location.hash = `magnets/lot/${encodeURIComponent(name)}`;
      context.tellOnce(sentence(answer.sentence));
    }) },
    h('div', { class: 'row' },
      field('lot-name', t('stock.lot'), into, 'lot', { maxlength: '40' }),
      field('lot-quantity', t('stock.quantity'), into, 'quantity', { inputmode: 'numeric' })),
    h('label', { for: 'lot-alloy' }, t('stock.alloy')),
    h('select', { id: 'lot-alloy', onchange: (event) => { into.alloy = event.target.value; } },
      ['', ...alloys].map((each) => h('option', { value: each, selected: each === into.alloy },
        each || t('stock.choose')))),
    h('div', { class: 'row' },
      field('lot-supplier', t('stock.supplier'), into, 'supplier', { maxlength: '200' }),
      field('lot-said', t('stock.said'), into, 'said', { maxlength: '200' })),
    h('div', { class: 'row' }, h('button', { class: 'first', 'data-act': 'lot-in' }, t('stock.in.do')))));
}

function orderIn(context) {
  const into = draft('order', { name: '', customer: '', wanted: '', due: '' });
  return part(t('order.in'),
    h('form', { onsubmit: asking(context, '/orders', () => into, (answer) => {
      const name = into.name.trim();
      sent('order');
      location.hash = `magnets/order/${encodeURIComponent(name)}`;
      context.tellOnce(sentence(answer.sentence));
    }) },
    h('div', { class: 'row' },
      field('order-name', t('order.name'), into, 'name', { maxlength: '40' }),
      field('order-customer', t('order.customer'), into, 'customer', { maxlength: '200' })),
    field('order-wanted', t('order.wanted'), into, 'wanted', { maxlength: '200' }),
    field('order-due', t('order.due'), into, 'due', { type: 'date' }),
    h('div', { class: 'row' }, h('button', { class: 'first', 'data-act': 'order-in' }, t('order.in.do')))));
}

export function stock(main, context) {
  main.replaceChildren(back(), ...(context.mayPrepare() ? [lotIn(context), orderIn(context)]
    : [part(t('stock.in'), h('p', {}, t('look.only')))]));
}

const SHAPES = ['rod', 'ring', 'bar', 'bar through thickness', 'bar along length'];

// Some of it charged in full and read, by the rig's own loop; what they read stands above then.
function sample(context, name) {
  const rig = context.rigSays();
  const into = draft(`sample ${name}`, { count: '5', shape: 'rod', size: '', nest: '', poleUp: 'north' });
  const pick = (field_, options) => h('div', {}, h('label', { for: `sample-${field_}` },
    t(`sample.${field_}`)), h('select', { id: `sample-${field_}`,
    onchange: (event) => { into[field_] = event.target.value; } },
  options.map(([each, words]) => h('option', { value: each, selected: into[field_] === each }, words))));
  return part(t('sample'), h('p', { class: 'soft' }, t('sample.is')),
    h('form', { onsubmit: asking(context, '/lots/samples', () => ({ lot: name, ...into }), () => {
      location.hash = 'now';
    }) },
    h('div', { class: 'row fields' },
      field('sample-count', t('sample.count'), into, 'count', { inputmode: 'numeric' }),
      pick('shape', SHAPES.map((each) => [each, each])),
      field('sample-size', t('plan.size'), into, 'size', { placeholder: t('size.rod'), maxlength: '60' }),
      pick('poleUp', [['north', t('pole.north')], ['south', t('pole.south')]]),
      rig.nests.length > 1 ? pick('nest', [['', t('sample.nest.fits')],
        ...rig.nests.map((each) => [each.name, each.name])]) : ''),
    h('div', { class: 'row' }, h('button', { class: 'first', 'data-act': 'sample' }, t('sample.do')))));
}

// A lot: what became of it, and which alloy its magnets read like.
export async function lot(main, context, name) {
  const seen = await context.link.read(`/lots?name=${encodeURIComponent(name)}`);
  const counts = ['untouched', 'uncharged', 'charged', 'dialed', 'refused', 'assembled', 'scrapped'];
  const alike = (each) => t('lot.alike', { alloy: each.alloy, level: flux(each.tesla),
    off: percent(each.off, true) });
  main.replaceChildren(back(),
    part(t('thing.lot', { name: seen.lot }),
      seen.received.map((each) => h('p', {}, sentence([
        t('lot.came', { n: each.quantity, alloy: each.alloy }),
        each.supplier ? t('lot.from', { supplier: each.supplier }) : '', each.said]
        .filter(Boolean).join(', ')))),
      seen.received.length ? '' : h('p', {}, t('lot.unsaid')),
      h('dl', {}, counts.map((each) => fact(t(`lot.${each}`), String(seen.counts[each]))))),
    ...seen.charged.map((each) => part(t('lot.charged.part', { shape: each.shape, nest: each.nest }),
      h('dl', {},
        fact(t('lot.magnets'), String(each.magnets)),
        fact(t('lot.mean'), flux(each.meanTesla)),
        each.magnets > 1 ? fact(t('lot.deviation'), flux(each.deviationTesla)) : [],
        each.claimed ? fact(t('lot.claimed'), t(Math.abs(each.claimed.spreads) <= 2 ? 'lot.as'
          : 'lot.off', { what: alike(each.claimed) })) : [],
        fact(t('lot.like'), each.alike.map(alike).join('; '))))),
    !seen.received.length ? '' : !context.rigSays().drives ? part(t('sample'), h('p', {}, t('alone.sample')))
      : context.mayPrepare() ? sample(context, seen.lot) : '');
}

// A customer's order: what is wanted, what was built for it, whether it has left.
export async function order(main, context, name) {
  const seen = await context.link.read(`/orders?name=${encodeURIComponent(name)}`);
  const key = `out ${seen.name}`;
  const into = draft(key, { said: '' });
  const open = seen.state === 'built' && context.mayPrepare();
  main.replaceChildren(back(),
    part(t('thing.order', { name: seen.name }),
      h('dl', {},
        fact(t('order.state'), t(`order.${seen.state}`)),
        seen.wanted ? fact(t('order.wanted'), seen.wanted) : [],
        seen.customer ? fact(t('order.customer'), seen.customer) : [],
        seen.wall ? fact(t('order.taken'), day(seen.wall)) : [],
        seen.due ? fact(t('order.due'), day(seen.due)) : [],
        seen.outWall ? fact(t('order.out'), `${day(seen.outWall)} ${seen.outSaid}`) : [])),
    part(t('order.pickups'), seen.pickups.length ? table(t('order.pickups'),
      [t('build.name'), t('pickup.poles'), t('pickup.since')], seen.pickups.map((each) => [
        toThing('pickup', each.pickup, each.name), String(each.poles), day(each.wall)]), [1])
      : h('p', {}, t('order.nothing')),
    seen.pickups.map((each) => h('div', { class: 'set' }, h('h3', {}, each.name),
      paper(context, { of: String(each.pickup) })))),
    open ? part(t('order.hand'), h('form', { onsubmit: asking(context, '/handovers',
      () => ({ name: seen.name, said: into.said }), () => {
        sent(key);
        order(main, context, name);
      }) },
    field('out-said', t('order.said'), into, 'said', { maxlength: '200' }),
    h('div', { class: 'row' }, h('button', { class: 'first', 'data-act': 'hand-over' }, t('order.hand.do'))))) : '');
}
