/** Words shown to people that are not tied to one panel. */

export const KEYS: readonly (readonly [string, string])[] = [
  ['Arrow keys', 'Turn the ball, when it has the focus. With Shift: finely'],
  [', and .', 'Roll the ball left or right'],
  ['+ and −', 'Bring the ball nearer or farther'],
  ['Home', 'Lay the ball back as it was at first'],
  ['Alt + arrow up or down', 'Move a layer earlier or later, when it has the focus'],
  ['Ctrl + Z', 'Undo'],
  ['Ctrl + Shift + Z', 'Redo'],
  ['N', 'Names of the points on or off'],
  ['P', 'Pins on or off'],
  ['L', 'Guidelines on top on or off'],
  ['R', 'Ruler: touch two places on the ball'],
  ['D', 'Draw a path of your own: touch spot after spot'],
  ['O', 'Over and under: touch a crossing'],
  ['Enter', 'Touch the middle of the ball, when it has the focus'],
  ['A', 'Add a layer'],
  ['T', 'Take away'],
  ['[ and ]', 'One row back or forward'],
  ['Esc', 'Put the ruler or the picking down'],
  ['?', 'This sheet'],
];

export const SEVERITY: Record<string, { said: string; mark: string }> = {
  stop: { said: 'Change first', mark: '■' },
  care: { said: 'Decide', mark: '▲' },
  note: { said: 'Know', mark: '●' },
};

export const PLACES: Record<string, string> = {
  centre: 'worked round a point',
  arc: 'worked along a guideline',
  circle: 'worked along a circle',
  poles: 'worked from pole to pole',
  ball: 'worked over the whole ball',
};

const SINCE = new Intl.RelativeTimeFormat('en-GB', { numeric: 'auto' });
const STEPS: readonly (readonly [Intl.RelativeTimeFormatUnit, number])[] = [
  ['day', 86400],
  ['hour', 3600],
  ['minute', 60],
];

/** "3 minutes ago", "yesterday", or the date where it is more than a week. */
export function since(iso: string, now = Date.now()): string {
  const seconds = (now - new Date(iso).getTime()) / 1000;
  if (seconds > 7 * 86400)
    return new Date(iso).toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });
  for (const [unit, size] of STEPS) if (seconds >= size) return SINCE.format(-Math.floor(seconds / size), unit);
  return 'just now';
}

/** "7½ hours". */
export function hoursSaid(hours: number): string {
  const halves = Math.max(1, Math.round(hours * 2));
  if (halves === 1) return 'half an hour';
  return `${Math.floor(halves / 2)}${halves % 2 ? '½' : ''} ${halves === 2 ? 'hour' : 'hours'}`;
}

/** First letter large. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** "40 min" or "3 h 20": to 5 minutes from half an hour up, since nobody knows it better. */
export function timeSaid(minutes: number): string {
  const near = minutes < 30 ? Math.round(minutes) : 5 * Math.round(minutes / 5);
  const [hours, rest] = [Math.floor(near / 60), near % 60];
  if (hours === 0) return `${rest} min`;
  return rest ? `${hours} h ${String(rest).padStart(2, '0')}` : `${hours} h`;
}
