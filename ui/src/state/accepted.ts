import { buzz } from '../bridge/bridge'

/** A short buzz and a short tone: a reading of an instrument was kept. Where neither can be had, nothing. */
export function accepted(): void {
  try {
    // A phone whose motor is switched off still makes the tone.
    buzz(60).catch(() => undefined)
    const sound = new AudioContext()
    const tone = new OscillatorNode(sound, { frequency: 880 })
    tone.connect(new GainNode(sound, { gain: 0.2 })).connect(sound.destination)
    tone.addEventListener('ended', () => void sound.close())
    tone.start()
    tone.stop(sound.currentTime + 0.09)
  } catch {
    // A device without sound still shows what was kept.
  }
}
