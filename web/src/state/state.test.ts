import { describe, expect, it, vi } from 'vitest';
import { Away, Refused, type Figures, type Technique } from '../wire/client';
import type { DesignDocument } from '../wire/design';
import type { Scene, ScenePoint } from '../wire/scene';
import { contrast } from './colours';
import { duplicated, moved, renamed, swapped, withValue } from './edits';
import { fitting, paramsTried } from './gallery';
import { History } from './history.svelte';
import { inMm, said } from './lengths';
import { together } from './places';
import { Product } from './product.svelte';
import { roomOf } from './room.svelte';
import { renamedIn, rowText, rowWords } from './rows';

const ball = (name: string, rows = '2 navy, 1 white'): DesignDocument => ({
  format: 1,
  name,
  ball: { around: '250 mm' },
  threads: [
    { name: 'navy', colour: '#1d2b45' },
    { name: 'white', colour: '#ffffff' },
  ],
  marking: { division: 'S8' },
  layers: [
    { name: 'a', technique: 'uwagake', where: 'N', rows },
    { name: 'b', technique: 'band', where: 'obi', rows: '1 white' },
  ],
});

describe('History', () => {
  it('undoes without end and redoes', () => {
    const history = new History(ball('0'));
    for (let k = 1; k <= 500; k++) history.change(ball(String(k)), 'name');
    for (let k = 0; k < 500; k++) expect(history.undo()).toBe(true);
    expect(history.now.name).toBe('0');
    expect(history.undo()).toBe(false);
    history.redo();
    expect(history.now.name).toBe('1');
  });

  it('makes one step of one run, and a new step after a pause', () => {
    const history = new History(ball('0'));
    history.change(ball('1'), 'name', 'name');
    history.change(ball('2'), 'name', 'name');
    history.pause();
    history.change(ball('3'), 'name', 'name');
    history.undo();
    expect(history.now.name).toBe('2');
    history.undo();
    expect(history.now.name).toBe('0');
  });

  it('forgets what was undone once something else is changed', () => {
    const history = new History(ball('0'));
    history.change(ball('1'), 'name');
    history.undo();
    history.change(ball('2'), 'name');
    expect(history.redoes).toBeNull();
  });
});

describe('edits', () => {
  it('replaces a value by its path and leaves the rest untouched', () => {
    const before = ball('x');
    const after = withValue(before, 'layers[0].params.outer', '12 mm');
    expect(after.layers?.[0]?.params).toEqual({ outer: '12 mm' });
    expect(before.layers?.[0]?.params).toBeUndefined();
    expect(after.layers?.[1]).toBe(before.layers?.[1]);
  });

  it('moves, duplicates and renames', () => {
    expect(moved(ball('x'), 0, 1).layers?.map((layer) => layer.name)).toEqual(['b', 'a']);
    expect(duplicated(ball('x'), 0).layers?.map((layer) => layer.name)).toEqual(['a', 'a 2', 'b']);
    expect(renamed(ball('x'), 1, 'cream').layers?.map((layer) => layer.rows)).toEqual(['2 navy, 1 cream', '1 cream']);
    expect(swapped(ball('x'), 0, 1).threads.map((thread) => thread.colour)).toEqual(['#ffffff', '#1d2b45']);
  });
});

describe('rows', () => {
  it('reads what the engine reads, and writes it back', () => {
    for (const text of ['2 navy, 1 white', 'until 5 mm from obi: 1 navy', '1 pale blue']) {
      expect(rowText(rowWords(text)!)).toBe(text);
    }
  });

  it('opens groups out', () => {
    const words = rowWords('2 navy, 2 x (1 white, 1 gold)');
    expect(words?.opened).toBe(true);
    expect(rowText(words!)).toBe('2 navy, 1 white, 1 gold, 1 white, 1 gold');
  });

  it('says nothing of what it cannot read', () => {
    for (const text of ['', 'navy', '0 navy', '2 x (1 navy']) expect(rowWords(text)).toBeNull();
  });

  it('renames a thread and not its namesakes', () => {
    expect(renamedIn('2 navy, 1 navy blue, 3 x (1 navy)', 'navy', 'ink')).toBe('2 ink, 1 navy blue, 3 x (1 ink)');
  });
});

describe('places', () => {
  const points: ScenePoint[] = ['N', 'S', 'centre 3'].map((name) => ({
    name,
    kind: 'centre',
    ways: 10,
    xyz: [0, 0, 1],
  }));
  const triangles: ScenePoint[] = ['triangle 1', 'triangle 2'].map((name) => ({
    name,
    kind: 'triangle',
    ways: 6,
    xyz: [0, 0, 1],
  }));
  const all = [...points, ...triangles];
  it('names like places together', () => {
    expect(together(all).map((offer) => offer.said)).toEqual(['N and S', 'all 3 centres', 'all 2 triangles']);
  });
});

describe('colours', () => {
  it('has the contrasts WCAG states', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6); // WCAG 2.2, definition of contrast ratio
    expect(contrast('#767676', '#ffffff')).toBeGreaterThan(4.5); // the well-known lightest grey that passes AA on white
    expect(contrast('#777777', '#ffffff')).toBeLessThan(4.5);
  });

  const tokens = {
    daylight: {
      paper: '#FAF7F1',
      cloth: '#F1ECE2',
      inks: ['#23262D', '#5C6068', '#2B4C7E', '#A93D29', '#47654A', '#82621A'],
    },
    lamp: {
      paper: '#171A20',
      cloth: '#20242C',
      inks: ['#ECE7DC', '#A8ABB3', '#8FB1E3', '#E58A73', '#93B896', '#D5B15E'],
    },
  };
  it.each(Object.entries(tokens))('every text colour passes AA on both grounds by %s', (_, { paper, cloth, inks }) => {
    for (const ink of inks)
      for (const ground of [paper, cloth]) expect(contrast(ink, ground)).toBeGreaterThanOrEqual(4.5);
  });
});

describe('lengths', () => {
  it('says half millimetres and eighths of an inch', () => {
    expect(said(12.4)).toBe('12½ mm');
    expect(said(0.5)).toBe('½ mm');
    expect(said(25.4, 'in')).toBe('1 in');
    expect(said(9.525, 'in')).toBe('⅜ in');
  });

  it('reads what the document may hold', () => {
    expect(inMm('25 cm')).toBe(250);
    expect(inMm('9 3/4 in')).toBeCloseTo(247.65, 9);
    expect(inMm('1/3 from obi')).toBeNull();
  });
});

describe('roomOf', () => {
  it('knows the four rooms', () => {
    expect(roomOf('#/bench/abc123')).toEqual({ name: 'bench', id: 'abc123' });
    expect(roomOf('#/chair')).toEqual({ name: 'chair' });
    expect(roomOf('#/nowhere')).toEqual({ name: 'shelf' });
  });
  it('knows the pages of the Bench and of the Shelf', () => {
    expect(roomOf('#/bench/abc123/survey')).toEqual({ name: 'bench', id: 'abc123', page: 'survey' });
    expect(roomOf('#/bench/abc123/nothing')).toEqual({ name: 'bench', id: 'abc123' });
    expect(roomOf('#/pieces')).toEqual({ name: 'pieces' });
    expect(roomOf('#/shows/f00d')).toEqual({ name: 'shows', id: 'f00d' });
  });
});

describe('Product', () => {
  const scene = (question: number) =>
    ({ question, wrong: null, rowLayer: new Uint16Array(1), points: [{}] }) as unknown as Scene;
  const told = (_: unknown, question: number) => Promise.resolve({ question, findings: [] } as unknown as Figures);

  it('never shows the answer to an older question', async () => {
    const answers: ((scene: Scene) => void)[] = [];
    const product = new Product('tab', () => new Promise((resolve) => answers.push(resolve)), told);
    const first = product.ask(ball('old'));
    const second = product.ask(ball('new'));
    answers[1]!(scene(2));
    await second;
    answers[0]!(scene(1));
    await first;
    expect(product.scene?.question).toBe(2);
  });

  it('keeps the last scene where the next cannot be made, and says why', async () => {
    const how = vi
      .fn()
      .mockResolvedValueOnce(scene(1))
      .mockRejectedValueOnce(new Refused(422, { where: 'layers[0].rows', what: 'no' }));
    const product = new Product('tab', how, told);
    await product.ask(ball('a'));
    await product.ask(ball('b'));
    expect(product.scene?.question).toBe(1);
    expect(product.wrong?.where).toBe('layers[0].rows');
  });

  it('tells an absent server from a refusal', async () => {
    const product = new Product('tab', () => Promise.reject(new Away('gone')));
    await product.ask(ball('a'));
    expect(product.unreachable).toBe(true);
    expect(product.wrong).toBeNull();
  });
});

describe('the gallery', () => {
  const star: Technique = {
    name: 'star',
    title: 'Star',
    sentence: '',
    place: 'centre',
    schema: {
      properties: {
        points: { type: 'integer', minimum: 5, maximum: 64 },
        step: { type: 'integer', minimum: 2 },
      },
    },
    example: { where: 'N', rows: '3 gold, 1 navy', params: { points: 5, step: 2 } },
    where: ['N'],
  };
  it('tries the example, then what the form alone says, then counts the lines allow', () => {
    expect(paramsTried(star, 16)).toEqual([
      { points: 5, step: 2 },
      {},
      { points: 8, step: 2 },
      { points: 16, step: 2 },
    ]);
  });

  it('takes the first that can be made, in her own threads', async () => {
    const attempt = (document: DesignDocument) => {
      const fits = document.layers?.[0]?.params?.['points'] === 8;
      return Promise.resolve({ wrong: fits ? null : { where: '', what: 'no' } } as unknown as Scene);
    };
    const { layer, what } = await fitting(star, ball('x'), 16, attempt);
    expect(what).toBeNull();
    expect(layer.params).toEqual({ points: 8, step: 2 });
    expect(layer.rows).toBe('3 navy, 1 white');
  });
});
