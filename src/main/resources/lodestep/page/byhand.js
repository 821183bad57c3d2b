import { h, part, put, scale } from './parts.js';
import { t, flux, level } from './words.js';
import { paper } from './shelf.js';
import { planner } from './plan.js';

const FREE = ['idle', 'done'];

// Work by hand, guided: what to do in big words, the reading, how much of an approach is done.
function guidance(context, hears) {
  const cue = h('p', { class: 'big', id: 'cue' });
  const reads = h('p', { class: 'big figures', id: 'hand-reads' });
  const settled = h('p', { class: 'soft', id: 'settled' });
  const done = h('i', {});
  const bar = h('div', { class: 'bar tall', role: 'progressbar', 'aria-label': t('by.approach'),
    'aria-valuemin': '0', 'aria-valuemax': '100' }, done);
  const part_ = h('p', { class: 'figures' });
  const approach = h('div', {}, bar, part_, h('p', { class: 'soft' }, t('by.stray')));
  const ruler = scale();
  const asked = h('p', { class: 'soft' });
  const cautions = h('div', {});
  const over = h('div', { class: 'row' });
  const title = h('h2', {});
  const box = h('section', { class: 'part by-hand', hidden: true }, title, asked, cue, reads, settled,
    approach, ruler.box, h('div', { class: 'row' }, hears.button()), over, cautions);
  let hand = null;
  let certificateOf = '';

  function finish() {
    if (hand?.verdict !== 'accepted') {
      over.replaceChildren();
      certificateOf = '';
    } else if (certificateOf !== hand.name) {
      certificateOf = hand.name;
      over.replaceChildren(h('a', { class: 'button', href: `#magnets/${hand.magnet}` },
        t('by.record', { name: hand.name })), paper(context, { of: hand.name }));
    }
  }

  function inBand(tesla) {
    return hand.targetTesla !== undefined && tesla !== undefined
      && Math.abs(tesla - hand.targetTesla) <= hand.toleranceTesla;
  }

  function sounds(seen) {
    const told = seen.hand;
    if (!told || seen.reading.tesla === undefined) hears.mute();
    else if (told.past) hears.past();
    else if (told.rising !== undefined) hears.say(told.rising, false);
    else if (told.atRest && inBand(seen.reading.tesla)) hears.say(1, true);
    else if (told.atRest && hand.targetTesla !== undefined
      && Math.abs(seen.reading.tesla) < Math.abs(hand.targetTesla)) hears.past();
    else hears.mute();
  }

  return {
    box,
    warn(paragraphs) {
      cautions.replaceChildren(...paragraphs.map((each) => h('p', { class: 'note' }, each)));
    },
    bench(seen) {
      hand = seen.hand ?? null;
      box.hidden = !hand;
      if (!hand) return;
      put(title, t('by.title', { name: hand.name }));
      put(asked, t('by.asked', { kind: hand.kind, asked: hand.asked, nest: hand.nest }));
      put(settled, hand.settledTesla === undefined ? t('by.unread') : t(
        hand.levels.length ? 'by.settled' : 'by.found',
        { level: level(hand.settledTesla), u: flux(hand.expandedTesla), n: hand.levels.length }));
      cautions.hidden = Boolean(hand.verdict);
      finish();
    },
    now(seen) {
      if (!hand) return;
      put(cue, hand.verdict ? t(`by.verdict.${hand.verdict}`) : t(`by.${seen.ask ?? 'wait'}`));
      cue.dataset.ask = hand.verdict ?? seen.ask ?? '';
      const live = seen.reading.tesla;
      put(reads, live === undefined ? t('reading.none') : level(live));
      const percent = Math.round(100 * (seen.ask === 'away' ? 1 : seen.hand?.done ?? 0));
      approach.hidden = !hand.near;
      done.style.width = `${percent}%`;
      done.className = seen.ask === 'away' ? 'over' : '';
      bar.setAttribute('aria-valuenow', String(percent));
      put(part_, seen.ask === 'away' ? t('by.stop') : t('by.part', { percent }));
      // While the opposing magnet is near, its field is in the reading: the scale keeps what settled.
      const shown = hand.near || live === undefined ? hand.settledTesla : live;
      ruler.show({
        tesla: shown, target: hand.targetTesla === undefined ? undefined : Math.abs(hand.targetTesla),
        tolerance: hand.toleranceTesla, full: hand.fullTesla,
        words: shown === undefined ? t('reading.none') : level(shown),
      });
      sounds(seen);
    },
    under: () => Boolean(hand) && !hand.verdict,
  };
}

// Charging and knocking down by hand: what is asked of a magnet, and the guidance through it.
export function byHand(context, hears) {
  const guide = guidance(context, hears);
  const asks = context.mayPrepare() ? planner(context, {
    title: 'by', path: '/by-hand', begin: 'by.begin', one: true, then: () => window.scrollTo(0, 0),
  }) : null;
  const cautions = h('div', {});
  const form = h('div', {}, asks ? asks.box : part(t('by'), h('p', {}, t('look.only'))));
  if (asks) asks.box.querySelector('h2').after(h('p', { class: 'soft' }, t('by.is')), cautions);
  context.link.read('/gauge/record').then((seen) => {
    guide.warn(seen.handCautions);
    cautions.replaceChildren(...seen.handCautions.map((each) => h('p', { class: 'note' }, each)));
  }).catch(() => {});
  return {
    guide: guide.box,
    form,
    under: guide.under,
    bench: guide.bench,
    now(seen) {
      const free = FREE.includes(seen.phase);
      if (form.hidden === free) form.hidden = !free;
      guide.now(seen);
    },
  };
}
