/** What the page of time and price asks: her costs, hours and price of a design, the page to print. */

import { json, sent } from './client';
import type { components } from './design.gen';

type Said = components['schemas'];
export type Costs = Said['Costs'];
export type Answer = Said['TimeAndPrice'];
export type Hours = Said['HoursKnown'];
export type Price = Said['PriceMade'];

/** What she types; the server reads it strictly and answers with what it kept. */
export type SaidCosts = Record<string, unknown>;

export const costs = () => json<{ costs: Costs | null }>('/costs');
export const keptCosts = (said: SaidCosts) => json<{ costs: Costs }>('/costs', sent('PUT', said));

const query = (more: Record<string, string>) => {
  const words = new URLSearchParams(Object.entries(more).filter(([, value]) => value));
  return words.size ? `?${words}` : '';
};
export const price = (id: string, at: string) => json<Answer>(`/designs/${id}/price${query({ at })}`);
export const pageAddress = (id: string, paper: string, at: string) =>
  `/api/designs/${id}/price.pdf${query({ paper, at })}`;
