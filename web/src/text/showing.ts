/** Words of pieces and shows that more than one panel says. */

import type { PaperKind, Where } from '../wire/showing';

/** Where a piece may be; a mark beside the word, so that colour is never alone. */
export const WHERES: Record<Where, { said: string; mark: string }> = {
  studio: { said: 'In the studio', mark: '○' },
  'on show': { said: 'On show', mark: '◆' },
  lent: { said: 'Lent', mark: '▷' },
  sold: { said: 'Sold', mark: '●' },
  given: { said: 'Given away', mark: '◐' },
  away: { said: 'Away', mark: '◇' },
};

export const PAPERS: readonly { kind: PaperKind; said: string; words: string }[] = [
  { kind: 'catalogue', said: 'Catalogue', words: 'Every piece with its picture and what you say of it.' },
  { kind: 'labels', said: 'Labels', words: 'To cut out and stand beside the pieces.' },
  { kind: 'large-print', said: 'Large print', words: 'The labels as a booklet for weak eyes.' },
  { kind: 'reading-text', said: 'Text to be read aloud', words: 'Plain text, for a phone or a reader.' },
  { kind: 'case-plan', said: 'Case plan', words: 'To scale, for whoever sets it up.' },
  { kind: 'checklist', said: 'Checklist', words: 'Packing, setting up, taking down.' },
  { kind: 'loan-form', said: 'Loan form', words: 'What is lent, by whom, to whom, until when.' },
  { kind: 'price-list', said: 'Price list', words: 'For the desk.' },
  { kind: 'insurance-list', said: 'Insurance list', words: 'Values, with a sum.' },
  { kind: 'care-notes', said: 'Care notes', words: 'For whoever looks after the pieces.' },
];

/** "6 December 2026". */
export const day = (iso: string): string =>
  new Date(`${iso}T12:00:00`).toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });
