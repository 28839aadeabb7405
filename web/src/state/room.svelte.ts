/** Which room is open; the address after # says it, so that the browser's own back and forward work. */

export type Room = { name: 'shelf' } | { name: 'bench'; id: string } | { name: 'drawer' } | { name: 'chair' };

/** The room an address names. */
export function roomOf(hash: string): Room {
  const [, name, id] = /^#\/?([a-z]*)\/?([0-9a-zA-Z-]*)/.exec(hash) ?? [];
  if (name === 'bench' && id) return { name, id };
  if (name === 'drawer' || name === 'chair') return { name };
  return { name: 'shelf' };
}

class Rooms {
  now = $state.raw<Room>({ name: 'shelf' });

  begin(): void {
    this.now = roomOf(location.hash);
    addEventListener('hashchange', () => (this.now = roomOf(location.hash)));
  }
}

export const rooms = new Rooms();
export const benchAddress = (id: string): string => `#/bench/${id}`;
