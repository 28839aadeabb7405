import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { LessonInHand } from './lesson.svelte';

const card = { id: 'a', title: 't', design: 'd', number: 1 };
let number = 1;
let sent: { document: { title: string }; number: number }[] = [];
let status = 200;

function answer(path: string, init?: RequestInit): Response {
  const body = (value: unknown, code = 200) => new Response(JSON.stringify(value), { status: code });
  if (path.endsWith('/worked')) return body({ told: {}, steps: {} });
  if (init?.method !== 'PUT') return body({ card: { ...card, number }, document: { title: 't' }, wrong: null });
  if (status !== 200) return body({ where: 'class', what: 'was changed in another window' }, status);
  const save = JSON.parse(String(init.body)) as (typeof sent)[0];
  sent.push(save);
  number += 1;
  return body({ card: { ...card, number }, document: save.document, wrong: null });
}

beforeEach(() => {
  [number, sent, status] = [1, [], 200];
  vi.stubGlobal('fetch', (path: string, init?: RequestInit) => Promise.resolve(answer(path, init)));
});
afterEach(() => vi.unstubAllGlobals());

async function opened(): Promise<LessonInHand> {
  const lesson = new LessonInHand('a');
  await lesson.open();
  return lesson;
}

test('what is typed is written down, each time on the words before it', async () => {
  const lesson = await opened();
  for (const title of ['one', 'two']) {
    lesson.words!.title = title;
    lesson.touch();
    await lesson.write();
  }
  expect(sent.map((each) => [each.document.title, each.number])).toEqual([
    ['one', 1],
    ['two', 2],
  ]);
  expect(lesson.saving).toBe('kept');
});

test('nothing is written where nothing was typed', async () => {
  const lesson = await opened();
  await lesson.write();
  expect(sent).toEqual([]);
});

test('keys struck while it is written down are not lost', async () => {
  const lesson = await opened();
  lesson.words!.title = 'one';
  lesson.touch();
  const writing = lesson.write();
  await Promise.resolve();
  lesson.words!.title = 'one and more';
  await writing;
  expect(lesson.words!.title).toBe('one and more');
  await lesson.write();
  expect(sent.at(-1)?.document.title).toBe('one and more');
});

test('another window wins nothing in silence', async () => {
  const lesson = await opened();
  status = 409;
  lesson.words!.title = 'mine';
  lesson.touch();
  await lesson.write();
  expect(lesson.saving).toBe('old');
  expect(lesson.words!.title).toBe('mine');
  [status, number] = [200, 7];
  await lesson.keepMine();
  expect(sent).toEqual([{ document: { title: 'mine' }, number: 7 }]);
});
