import { h, part, plot, axis } from './parts.js';
import { t, flux, level, inUnit, settings, sentence, told } from './words.js';
import { back, fact, link, mend, scrap, set, table, toThing, when } from './shelf.js';
import { lot, order, stock } from './stock.js';
import { pickup, returned } from './pickups.js';

// What it read, reading after reading.
function life(box) {
  return plot(box, (readings, css) => ({
    data: [readings.map((each, index) => index + 1), readings.map((each) => inUnit(each))],
    options: {
      scales: { x: { time: false, range: (u, low, high) => [low - 0.5, high + 0.5] } },
      axes: [axis(t('life.order'), css, { incrs: [1, 2, 5, 10, 20, 50] }),
        axis(t('curve.level', { unit: settings.unit }), css, { size: 64 })],
      series: [{}, { stroke: css('--curve'), width: 2,
        points: { show: true, size: 9, fill: css('--curve') } }],
    },
  }));
}

async function one(main, context, number) {
  const seen = await context.link.read(`/magnets/${number}`);
  const readings = seen.happenings.filter((each) => each.tesla !== undefined)
    .map((each) => each.tesla);
  const figure = h('div', { class: 'plot' });
  main.replaceChildren(back(),
    part(seen.name,
      h('dl', {},
        fact(t('magnet.number'), String(seen.magnet)),
        fact(t('magnet.kind'), seen.kind),
        seen.set ? fact(t('magnet.set'), toThing('set', seen.set, seen.set)) : [],
        seen.lot ? fact(t('magnet.lot'), toThing('lot', seen.lot, seen.lot)) : [],
        fact(t('magnet.nest'), seen.nest),
        seen.targetTesla ? fact(t('magnet.asked'),
          `${flux(Math.abs(seen.targetTesla))} \u00b1 ${flux(seen.toleranceTesla)}, ${t(`pole.${seen.pole}`)}`) : [],
        fact(t('magnet.verdict'), seen.verdict ? sentence(told(`${seen.verdict}: ${seen.why}`))
          : t('magnet.open')),
        readings.length ? fact(t('magnet.read'), level(readings[readings.length - 1])) : [])),
    readings.length > 1 ? part(t('life'), figure) : '',
    part(t('magnet.record'), table(t('magnet.record'),
      [t('record.when'), t('record.what'), t('record.level'), t('record.u')],
      seen.happenings.map((each) => [h('span', { class: 'whole' }, when(each.wall)), sentence(told(each.words)),
        each.tesla === undefined ? '' : flux(each.tesla),
        each.u ? `\u00b1 ${flux(2 * each.u)}` : '']), [2, 3], true),
    h('div', { class: 'row' }, link(`/magnets/${seen.magnet}/csv`, t('record.csv')),
      seen.verdict === 'accepted' ? link(`/labels/pdf?of=${seen.magnet}`, t('paper.label')) : ''),
    context.mayPrepare() ? [...mend(context, seen, () => one(main, context, number)),
      scrap(context, seen, () => one(main, context, number))] : ''));
  if (readings.length > 1) life(figure).show(readings);
}

// Search over everything that has a name.
function all(main, context) {
  const found = h('div', {});
  const input = h('input', { id: 'find', type: 'search', autocomplete: 'off', value: looked });
  const count = h('p', { role: 'status', class: 'soft' });
  let asked = 0;
  let timer = 0;
  let shown = '';

  const line = (name, soft, right) => h('li', {}, h('div', { class: 'magnet' },
    h('div', {}, name, soft ? h('div', { class: 'soft' }, soft) : null),
    h('span', { class: 'figures' }, right)));
  const strong = (text) => h('strong', {}, text);
  const kinds = {
    pickups: (each) => line(toThing('pickup', each.pickup, strong(each.name)),
      each.order ? t('find.order', { order: each.order }) : '', t('find.poles', { n: each.poles })),
    sets: (each) => line(toThing('set', each, strong(each)), '', ''),
    orders: (each) => line(toThing('order', each.name, strong(each.name)), '', t(`order.${each.state}`)),
    lots: (each) => line(toThing('lot', each, strong(each)), '', ''),
    magnets: (each) => line(h('a', { href: `#magnets/${each.magnet}` }, strong(each.name)),
      each.kind + (each.set ? `, ${each.set}` : ''),
      (each.tesla === undefined ? '' : level(each.tesla)) + (each.verdict ? `, ${told(each.verdict)}` : '')),
  };

  async function find() {
    const mine = ++asked;
    looked = input.value;
    const things = await context.link.read(`/things?find=${encodeURIComponent(input.value)}`);
    if (mine !== asked) return;
    const there = Object.keys(kinds).filter((kind) => things[kind].length);
    const n = there.reduce((sum, kind) => sum + things[kind].length, 0);
    count.textContent = n ? t('find.found', { n }) : t('find.none');
    const key = JSON.stringify(things);
    found.dataset.looked = looked;
    if (key === shown) return;
    shown = key;
    found.replaceChildren(...there.map((kind) => h('div', { 'data-kind': kind },
      h('h3', {}, t(`find.${kind}`)), h('ul', { class: 'plain' }, things[kind].map(kinds[kind])))));
  }

  input.addEventListener('input', () => {
    clearTimeout(timer);
    timer = setTimeout(find, 200);
  });
  main.append(part(t('magnets.title'), h('label', { for: 'find' }, t('find')), input, count, found,
    context.mayPrepare() ? h('div', { class: 'row' },
      h('a', { class: 'button', href: '#magnets/stock' }, t('stock.open'))) : ''));
  find();
}

// What was looked for is there again when one comes back.
let looked = '';

const kinds = { set, order, lot, pickup, return: returned, stock };

export function magnets(main, context, rest) {
  if (!rest[0]) {
    all(main, context);
    return {};
  }
  const show = kinds[rest[0]] ?? one;
  const which = kinds[rest[0]] ? decodeURIComponent(rest[1] ?? '') : rest[0];
  const screen = show(main, context, which);
  Promise.resolve(screen?.loaded ?? screen).catch((error) => {
    main.replaceChildren(back(), part(t('magnets.title'), h('p', {}, sentence(error.message))));
  });
  return screen?.bench ? screen : {};
}
