/** What the pages around a ball are called wherever one goes to them. */

/** Each page of the Bench under its address, in the order the work is done. */
export const AROUND_SAID = [
  { page: 'winding', said: 'Wind the base' },
  { page: 'survey', said: 'Survey the pins' },
  { page: 'plans', said: 'Colour plans' },
  { page: 'price', said: 'Time and price' },
] as const;
