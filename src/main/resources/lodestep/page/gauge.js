import { h, part, put, scale } from './parts.js';
import { t, flux, level, sentence, settings, told } from './words.js';
import { byHand } from './byhand.js';
import { checks } from './checks.js';
import { tone } from './tone.js';

const tesla = (text) => {
  const figure = Number.parseFloat(text.replace(',', '.'));
  if (!Number.isFinite(figure)) return undefined;
  return Math.abs(figure) / (settings.unit === 'mT' ? 1e3 : 1e4);
};

export function gauge(main, context) {
  const reads = h('p', { class: 'big figures', id: 'reads' });
  const word = h('p', {});
  const ruler = scale();
  const least = h('dd', { class: 'figures' });
  const most = h('dd', { class: 'figures' });
  const held = h('dd', { class: 'figures' });
  const wander = h('dd', { class: 'figures' });
  const says = h('p', { class: 'soft', role: 'status' });
  const hears = tone();
  const target = h('input', { id: 'aim', inputmode: 'decimal', autocomplete: 'off' });
  const tolerance = h('input', { id: 'aim-band', inputmode: 'decimal', autocomplete: 'off' });
  const act = (name) => h('button', { type: 'button', 'data-gauge': name,
    onclick: () => context.ask('/gauge', { act: name }) }, t(`gauge.${name}`));
  const usual = h('div', {}, h('div', { class: 'two' },
    part(t('gauge.live'), reads, word, ruler.box,
      h('div', { class: 'row' }, context.mayPrepare()
        ? ['hold', 'reset', 'zero'].map(act) : [], hears.button()), says),
    h('div', {},
      part(t('gauge.seen'), h('dl', {},
        h('dt', {}, t('gauge.least')), least, h('dt', {}, t('gauge.most')), most,
        h('dt', {}, t('gauge.held')), held, h('dt', {}, t('gauge.wander')), wander)),
      part(t('gauge.aim'), h('p', { class: 'soft' }, t('gauge.aim.is')),
        h('label', { for: 'aim' }, t('gauge.aim.target', { unit: settings.unit })), target,
        h('label', { for: 'aim-band' }, t('gauge.aim.band', { unit: settings.unit })), tolerance))));
  const known = checks(context);
  const work = byHand(context, hears);
  usual.append(work.form, known.box);
  main.append(work.guide, usual);

  return {
    close: () => hears.stop(),
    age(old) {
      if (old) hears.mute();
    },
    bench(seen) {
      work.bench(seen);
      usual.hidden = work.under();
    },
    now(seen) {
      work.now(seen);
      if (work.under()) return;
      known.draw();
      const reading = seen.reading;
      const aim = tesla(target.value);
      const band = tesla(tolerance.value) ?? (aim ? aim * 0.02 : undefined);
      put(reads, reading.tesla === undefined ? t(reading.kept ? 'reading.kept' : 'reading.none')
        : level(reading.tesla));
      put(least, reading.smallest === undefined ? '' : flux(reading.smallest));
      put(most, reading.largest === undefined ? '' : flux(reading.largest));
      put(held, reading.held === undefined ? t('gauge.not.held') : level(reading.held));
      put(wander, flux(reading.wander));
      put(says, sentence(told(reading.says) || (reading.zeroed ? '' : t('reading.unzeroed'))));
      const size = Math.abs(reading.tesla ?? 0);
      let said = '';
      if (reading.tesla === undefined) {
        hears.mute();
      } else if (aim) {
        const inside = Math.abs(size - aim) <= band;
        said = inside ? t('aim.inside') : size > aim ? t('aim.above', { by: flux(size - aim) })
          : t('aim.below', { by: flux(aim - size) });
        hears.say(1 - Math.abs(size - aim) / Math.max(aim, size, 1e-6), inside);
      } else {
        hears.say(size / 0.15, false);
      }
      put(word, said);
      word.className = said === t('aim.inside') ? 'good' : 'soft';
      ruler.show({
        tesla: reading.tesla, target: aim, tolerance: band,
        most: Math.max(Math.abs(reading.largest ?? 0), Math.abs(reading.smallest ?? 0), 0.1),
        words: `${reading.tesla === undefined ? t('reading.none') : level(reading.tesla)}. ${said}`,
      });
    },
  };
}
