import { h, part, put, scale, limit, plot, axis, nice } from './parts.js';
import { t, flux, level, inUnit, settings, span, told } from './words.js';

// Where a curve crosses these fields: level by field, straight between its points.
function along(points, fields) {
  const sorted = [...points].sort((a, b) => a[0] - b[0]);
  return fields.map((field) => {
    if (!sorted.length || field < sorted[0][0] || field > sorted[sorted.length - 1][0]) return null;
    for (let i = 1; i < sorted.length; i++) {
      const [x0, y0] = sorted[i - 1];
      const [x1, y1] = sorted[i];
      if (field <= x1) return x1 === x0 ? y1 : y0 + ((field - x0) / (x1 - x0)) * (y1 - y0);
    }
    return sorted[0][1];
  });
}

// The knock-down curve: what was read after each pulse, what is believed of it, and the band.
export function curvePlot(box) {
  return plot(box, (curve, css) => {
    const belief = curve.belief ?? [];
    const full = belief.length ? [[0, curve.points[0]?.[1] ?? belief[0][0]]] : [];
    const line = (at) => [...full, ...belief.map((each) => [each[at], each[0]])];
    const fields = [...new Set([
      ...curve.points.map((each) => each[0]),
      ...belief.flatMap((each) => [each[1], each[2], each[3]]), 0,
    ])].filter((x) => x >= 0 && Number.isFinite(x)).sort((a, b) => a - b);
    const shown = (values) => values.map((each) => (each === null ? null : inUnit(each)));
    const points = new Map(curve.points.map((each) => [each[0], each[1]]));
    const data = [
      fields.map((each) => each / 1000),
      shown(along(line(1), fields)),
      shown(along(line(3), fields)),
      shown(along(line(2), fields)),
      shown(fields.map((each) => points.get(each) ?? null)),
    ];
    const band = curve.targetTesla
      ? [curve.targetTesla - curve.toleranceTesla, curve.targetTesla + curve.toleranceTesla]
      : null;
    return {
      data,
      options: {
        scales: { x: { time: false }, y: { range: (u, low, high) => [0, high * 1.08] } },
        axes: [axis(t('curve.field'), css),
          axis(t('curve.level', { unit: settings.unit }), css, { size: 64 })],
        series: [{},
          { stroke: css('--belief'), width: 1, dash: [2, 4], points: { show: false } },
          { stroke: css('--belief'), width: 1, dash: [2, 4], points: { show: false } },
          { stroke: css('--belief'), width: 2, dash: [8, 5], points: { show: false } },
          { stroke: css('--curve'), width: 3, spanGaps: true,
            points: { show: true, size: 11, fill: css('--curve') } }],
        hooks: { drawClear: band ? [(u) => {
          const top = u.valToPos(inUnit(band[1]), 'y', true);
          const bottom = u.valToPos(inUnit(band[0]), 'y', true);
          u.ctx.save();
          u.ctx.fillStyle = css('--band');
          u.ctx.strokeStyle = css('--good');
          u.ctx.fillRect(u.bbox.left, top, u.bbox.width, Math.max(3, bottom - top));
          u.ctx.strokeRect(u.bbox.left, top, u.bbox.width, Math.max(3, bottom - top));
          u.ctx.restore();
        }] : [] },
      },
    };
  });
}

function key() {
  return h('ul', { class: 'key', 'aria-hidden': 'true' },
    h('li', {}, h('i', {}), t('curve.read')),
    h('li', {}, h('i', { class: 'belief' }), t('curve.belief')),
    h('li', {}, h('i', { class: 'band' }), t('curve.band')));
}

export function now(main, context) {
  const { drives } = context.rigSays();
  const reads = h('p', { class: 'big figures' });
  const where = h('p', { class: 'soft' });
  const ruler = scale();
  const figure = h('div', { class: 'plot' });
  const about = h('p', { class: 'soft' });
  const drawing = curvePlot(figure);
  const curveBox = part(t('curve'), about, figure, key());
  const bank = limit(t('bank'));
  const coil = limit(t('coil'));
  const jigName = h('dt', { hidden: true }, t('jig'));
  const jigSays = h('dd', { hidden: true });
  const energy = h('dl', {}, bank.nodes, coil.nodes, jigName, jigSays);
  const headSays = h('dd', {});
  const chainSays = h('dd', {});
  energy.append(h('dt', {}, t('head')), headSays);
  if (drives) energy.append(h('dt', {}, t('chain')), chainSays);
  const locks = h('div', {});
  main.append(
    h('div', { class: 'two' },
      h('div', {}, part(t('reading'), reads, where, ruler.box), curveBox),
      h('div', {}, drives ? [part(t('locks'), locks), part(t('energy'), energy)]
        : part(t('alone'), h('p', {}, t('alone.locks')), energy))));
  let curve = null;
  let magnet = null;
  let latest = null;
  let poles = null;

  const lockAge = (who, since) => t('lock.by', {
    by: told(who), age: span(Math.max(0, ((latest?.at ?? 0) - since) / 1000)),
  });

  function lockLine(each) {
    const state = each.latched ? 'lock.latched' : each.present ? 'lock.present' : 'lock.quiet';
    return h('li', {},
      h('span', { class: each.present || each.latched ? 'bad' : 'good' }, t(state)), ' ',
      h('strong', {}, told(each.what)),
      h('div', { class: 'soft', 'data-since': each.sinceMs, 'data-by': each.by },
        lockAge(each.by, each.sinceMs)),
      each.present || each.latched ? h('div', {}, t('lock.do', { remedy: told(each.remedy) })) : null);
  }

  return {
    bench(seen, at) {
      latest = at;
      curve = seen.curve ?? null;
      poles = seen.poles && !seen.poles.over ? seen.poles : null;
      magnet = seen.batch?.magnets.find((each) => each.state === 'working' || each.state === 'next');
      curveBox.hidden = !curve;
      if (curve) {
        drawing.show(curve);
        const last = curve.points[curve.points.length - 1];
        put(about, last
          ? t('curve.said', { name: curve.name, n: curve.pulses, level: flux(last[1]),
            target: curve.targetTesla ? flux(curve.targetTesla) : t('curve.nothing') })
          : t('curve.begins', { name: curve.name }));
      }
      const loud = seen.interlocks.filter((each) => each.present || each.latched);
      const quiet = seen.interlocks.filter((each) => !each.present && !each.latched);
      const open = locks.querySelector('details')?.open ?? false;
      locks.replaceChildren(
        loud.length
          ? h('ol', { class: 'plain' }, loud.map(lockLine))
          : h('p', {}, h('span', { class: 'good' }, t('locks.quiet')), ' ', t('locks.all')),
        seen.unmet.length
          ? h('div', {}, h('h3', {}, t('locks.waits')),
            h('ul', {}, seen.unmet.map((each) => h('li', {}, t('locks.until', { what: told(each) })))))
          : '',
        h('details', { open }, h('summary', {}, t('locks.every', { n: quiet.length })),
          h('ol', { class: 'plain' }, quiet.map(lockLine))));
    },
    now(seen) {
      const second = Math.floor(seen.at / 1000);
      if (!latest || second !== Math.floor(latest.at / 1000)) {
        latest = seen;
        locks.querySelectorAll('[data-since]').forEach((each) => {
          put(each, lockAge(each.dataset.by, Number(each.dataset.since)));
        });
      }
      const { tesla, zeroed, kept } = seen.reading;
      put(reads, tesla === undefined ? t(kept ? 'reading.kept' : 'reading.none') : level(tesla));
      // Of the magnet before, only while its verdict is shown.
      const mine = curve && (!magnet || curve.name === magnet.name || seen.phase === 'verdict')
        ? curve : null;
      const nest = mine ?? magnet;
      put(where, (nest
        ? t('reading.where', { nest: nest.nest, pole: t(`pole.${nest.pole ?? 'north'}`) })
        : poles && seen.ask !== 'leave_empty' ? t('reading.pole', { name: poles.name,
          spacer: poles.spacer, pole: Math.min(poles.read.length + 1, poles.of), of: poles.of })
          : t(seen.inputs.seat ? 'reading.nest' : drives ? 'reading.seat' : 'reading.gauge')) + (zeroed ? '' : ` ${t('reading.unzeroed')}`));
      const view = {
        tesla,
        full: mine?.fullTesla,
        most: mine ? undefined : nice(Math.max(0.01, Math.abs(tesla ?? 0))),
        target: mine?.targetTesla ?? (magnet?.targetTesla ? Math.abs(magnet.targetTesla) : undefined),
        tolerance: mine?.toleranceTesla ?? magnet?.toleranceTesla,
      };
      view.words = tesla === undefined ? t('reading.none')
        : view.target ? t('scale.words', { level: level(tesla), target: flux(view.target),
          tolerance: flux(view.tolerance) }) : level(tesla);
      ruler.show(view);
      bank.nodes.forEach((node) => { node.hidden = !seen.bank; });
      coil.nodes.forEach((node) => { node.hidden = !seen.coil; });
      if (seen.bank) {
        const { volts, most, low } = seen.bank;
        bank.show(t(volts <= low ? 'bank.low' : 'bank.filled',
          { volts: Math.abs(volts).toFixed(1), most: most.toFixed(0) }), volts / most);
      }
      if (seen.coil) {
        coil.show(t('coil.warm', { degC: seen.coil.degC.toFixed(0), most: seen.coil.most.toFixed(0) }),
          (seen.coil.degC - 15) / (seen.coil.most - 15));
      }
      [jigName, jigSays].forEach((node) => { node.hidden = !seen.jig; });
      if (seen.jig) {
        put(jigSays, t(seen.jig.homed ? 'jig.at' : 'jig.unknown', { mm: (seen.jig.metres * 1e3).toFixed(1) }));
      }
      put(headSays, seen.head.ageMs === undefined ? seen.head.words
        : t(seen.head.permit ? 'head.permit' : drives ? 'head.fine' : 'head.alone', { ms: seen.head.ageMs }));
      put(chainSays, t(seen.head.chain ? 'chain.closed' : 'chain.open'));
    },
  };
}
