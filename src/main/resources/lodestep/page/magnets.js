import { h, part, plot, axis } from './parts.js';
import { t, flux, level, inUnit, settings, sentence } from './words.js';

const when = (wall) => new Date(wall).toLocaleString(document.documentElement.lang,
  { dateStyle: 'medium', timeStyle: 'short' });

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
  const fact = (what, how) => [h('dt', {}, t(what)), h('dd', {}, how)];
  main.replaceChildren(
    h('p', {}, h('a', { href: '#magnets' }, t('magnets.all'))),
    part(seen.name,
      h('dl', {},
        fact('magnet.number', String(seen.magnet)),
        fact('magnet.kind', seen.kind),
        seen.set ? fact('magnet.set', seen.set) : [],
        seen.lot ? fact('magnet.lot', seen.lot) : [],
        fact('magnet.nest', seen.nest),
        seen.targetTesla ? fact('magnet.asked',
          `${flux(Math.abs(seen.targetTesla))} ± ${flux(seen.toleranceTesla)}, ${t(`pole.${seen.pole}`)}`) : [],
        fact('magnet.verdict', seen.verdict ? sentence(`${seen.verdict}: ${seen.why}`)
          : t('magnet.open')),
        readings.length ? fact('magnet.read', level(readings[readings.length - 1])) : [])),
    readings.length > 1 ? part(t('life'), figure) : '',
    part(t('magnet.record'), h('div', { class: 'wide', tabindex: '0', role: 'region',
      'aria-label': t('magnet.record') }, h('table', {},
      h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, t('record.when')),
        h('th', { scope: 'col' }, t('record.what')),
        h('th', { scope: 'col', class: 'figure' }, t('record.level')))),
      h('tbody', {}, seen.happenings.map((each) => h('tr', {},
        h('td', {}, when(each.wall)), h('td', {}, sentence(each.words)),
        h('td', { class: 'figure' }, each.tesla === undefined ? '' : flux(each.tesla)))))))));
  if (readings.length > 1) life(figure).show(readings);
}

function all(main, context) {
  const list = h('ul', { class: 'plain' });
  const input = h('input', { id: 'find', type: 'search', autocomplete: 'off' });
  const count = h('p', { role: 'status', class: 'soft' });
  let asked = 0;
  let timer = 0;

  async function find() {
    const mine = ++asked;
    const found = await context.link.read(`/magnets?find=${encodeURIComponent(input.value)}`);
    if (mine !== asked) return;
    count.textContent = found.length ? t('find.found', { n: found.length }) : t('find.none');
    list.replaceChildren(...found.map((each) => h('li', {}, h('div', { class: 'magnet' },
      h('div', {}, h('a', { href: `#magnets/${each.magnet}` }, h('strong', {}, each.name)),
        h('div', { class: 'soft' }, each.kind + (each.set ? `, ${each.set}` : ''))),
      h('span', { class: 'figures' }, each.tesla === undefined ? '' : level(each.tesla),
        each.verdict ? `, ${each.verdict}` : '')))));
  }

  input.addEventListener('input', () => {
    clearTimeout(timer);
    timer = setTimeout(find, 200);
  });
  main.append(part(t('screen.magnets'), h('label', { for: 'find' }, t('find')), input, count, list));
  find();
}

export function magnets(main, context, rest) {
  if (rest[0]) {
    one(main, context, rest[0]).catch((error) => {
      main.replaceChildren(part(t('screen.magnets'), h('p', {}, sentence(error.message)),
        h('a', { href: '#magnets' }, t('magnets.all'))));
    });
  } else {
    all(main, context);
  }
  return {};
}
