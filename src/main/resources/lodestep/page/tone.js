import { h } from './parts.js';
import { t } from './words.js';

// The pitch rises by two octaves towards the band; inside it two tones sound together.
export function tone() {
  let sound = null;
  const buttons = [];
  return {
    on: () => sound !== null,
    start() {
      const audio = new AudioContext();
      const volume = audio.createGain();
      volume.gain.value = 0.05;
      volume.connect(audio.destination);
      const voices = [audio.createOscillator(), audio.createOscillator()];
      voices.forEach((voice) => { voice.connect(volume); voice.start(); });
      sound = { audio, volume, voices };
    },
    stop() {
      if (sound) sound.audio.close();
      sound = null;
    },
    // Nothing that is heard may stand for a reading that is not there.
    mute() {
      if (sound) sound.volume.gain.value = 0;
    },
    say(nearness, inside) {
      if (!sound) return;
      sound.volume.gain.value = 0.05;
      const hertz = 300 * 4 ** Math.min(1, Math.max(0, nearness));
      const at = sound.audio.currentTime;
      sound.voices[0].frequency.setTargetAtTime(hertz, at, 0.03);
      sound.voices[1].frequency.setTargetAtTime(inside ? hertz * 1.25 : hertz, at, 0.03);
    },
    // Stop: two low tones in turn.
    past() {
      if (!sound) return;
      sound.volume.gain.value = 0.05;
      const at = sound.audio.currentTime;
      const hertz = at % 0.5 < 0.25 ? 220 : 165;
      sound.voices.forEach((voice) => voice.frequency.setValueAtTime(hertz, at));
    },
    // Each place that has a tone has a button for the one tone of the screen.
    button() {
      const made = h('button', { type: 'button', 'aria-pressed': String(sound !== null), onclick: () => {
        if (sound) this.stop();
        else this.start();
        buttons.forEach((each) => each.setAttribute('aria-pressed', String(sound !== null)));
      } }, t('gauge.tone'));
      buttons.push(made);
      return made;
    },
  };
}
