/** What this device can do beside showing: stay awake, click softly, and listen without sending sound away. */

/** Keeps the screen awake until the answer is called; says null where this browser can't. */
export function awake(): (() => void) | null {
  if (!('wakeLock' in navigator)) return null;
  let lock: WakeLockSentinel | null = null;
  const take = () => {
    if (document.visibilityState === 'visible')
      navigator.wakeLock.request('screen').then(
        (got) => (lock = got),
        () => {},
      );
  };
  take();
  document.addEventListener('visibilitychange', take);
  return () => {
    document.removeEventListener('visibilitychange', take);
    void lock?.release();
  };
}

let sounds: AudioContext | null = null;

/** A short soft tick: higher for forward, lower for back. */
export function tick(forward: boolean): void {
  sounds ??= new AudioContext();
  const [tone, loud] = [sounds.createOscillator(), sounds.createGain()];
  const now = sounds.currentTime;
  tone.frequency.value = forward ? 660 : 440;
  loud.gain.setValueAtTime(0.08, now);
  loud.gain.exponentialRampToValueAtTime(0.001, now + 0.12);
  tone.connect(loud).connect(sounds.destination);
  tone.start(now);
  tone.stop(now + 0.13);
}

interface Recogniser extends EventTarget {
  lang: string;
  continuous: boolean;
  processLocally: boolean;
  start(): void;
  stop(): void;
}
interface RecogniserKind {
  new (): Recogniser;
  available?(options: { langs: string[]; processLocally: boolean }): Promise<string>;
}

const LANGUAGE = 'en-GB';
const kind = (): RecogniserKind | undefined =>
  (globalThis as unknown as { SpeechRecognition?: RecogniserKind }).SpeechRecognition;

/** Why a spoken word can't be used here; null where the browser recognises on the device. */
export async function deaf(): Promise<string | null> {
  const Kind = kind();
  if (!Kind?.available || !('processLocally' in Kind.prototype))
    return 'This browser does not recognise speech on the device itself, and what you say is not sent anywhere. Use the buttons, keys or a pedal.';
  try {
    const can = await Kind.available({ langs: [LANGUAGE], processLocally: true });
    if (can === 'available') return null;
    return 'This browser could recognise speech on the device, but its language pack is not installed.';
  } catch {
    return 'This browser does not let the page listen.';
  }
}

/** Listens for "next" and "back" on the device until the answer is called. */
export function listening(act: (deed: 'next' | 'back') => void): () => void {
  const Kind = kind();
  if (!Kind) return () => {};
  const recogniser = new Kind();
  let ended = false;
  recogniser.lang = LANGUAGE;
  recogniser.continuous = true;
  recogniser.processLocally = true;
  recogniser.addEventListener('result', (event) => {
    const { results } = event as Event & { results: { length: number; [k: number]: { 0: { transcript: string } } } };
    const heard = results[results.length - 1]?.[0].transcript.trim().toLowerCase() ?? '';
    if (/\b(next|done)\b/.test(heard)) act('next');
    else if (/\bback\b/.test(heard)) act('back');
  });
  recogniser.addEventListener('end', () => !ended && recogniser.start());
  recogniser.start();
  return () => {
    ended = true;
    recogniser.stop();
  };
}
