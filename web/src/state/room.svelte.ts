/** Which room is open; the address after # says it, so that the browser's own back and forward work. */

/** What is done around a design, each on a page of the Bench. */
export const AROUND = ['winding', 'survey', 'plans', 'price'] as const;
export type AroundPage = (typeof AROUND)[number];

export type Room =
  | { name: 'shelf' }
  | { name: 'bench'; id: string; page?: AroundPage }
  | { name: 'pieces' | 'shows' | 'classes'; id?: string }
  | { name: 'drawer' }
  | { name: 'chair'; id?: string }
  | { name: 'pair'; code: string };

/** The room an address names. */
export function roomOf(hash: string): Room {
  const [, name, id, more] = /^#\/?([a-z]*)(?:\/|\?code=)?([0-9a-zA-Z-]*)\/?([a-z]*)/.exec(hash) ?? [];
  if (name === 'bench' && id) {
    const page = AROUND.find((each) => each === more);
    return page ? { name, id, page } : { name, id };
  }
  if (name === 'chair') return id ? { name, id } : { name };
  if (name === 'drawer') return { name };
  if (name === 'pair') return { name, code: id ?? '' };
  if (atHome && (name === 'pieces' || name === 'shows' || name === 'classes')) return id ? { name, id } : { name };
  return atHome ? { name: 'shelf' } : { name: 'chair' };
}

/** Whether this page runs on the studio's own machine; a paired device has the Chair, and looks into the Drawer. */
export const atHome = ['127.0.0.1', 'localhost', '[::1]'].includes(globalThis.location?.hostname ?? 'localhost');

class Rooms {
  now = $state.raw<Room>({ name: 'shelf' });

  begin(): void {
    this.now = roomOf(location.hash);
    addEventListener('hashchange', () => (this.now = roomOf(location.hash)));
  }
}

export const rooms = new Rooms();
export const benchAddress = (id: string): string => `#/bench/${id}`;
export const aroundAddress = (id: string, page: AroundPage): string => `#/bench/${id}/${page}`;
export const chairAddress = (id: string): string => `#/chair/${id}`;
