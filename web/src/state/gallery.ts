/** A layer of any technique that fits the ball at hand, found from its example and its form alone. */

import type { Technique } from '../wire/client';
import type { DesignDocument, LayerSpec } from '../wire/design';
import type { Scene } from '../wire/scene';
import { freeName, layersOf, withLayers } from './edits';
import { rowText, rowWords } from './rows';

const MOST_TRIED = 8;
type Params = Record<string, unknown>;

/** The example's rows in the design's own threads. */
function rowsFor(technique: Technique, design: DesignDocument): string {
  const runs = rowWords(technique.example.rows ?? '')?.runs ?? [{ count: 2, thread: 'any' }];
  const names = [...new Set(runs.map((run) => run.thread))];
  const own = design.threads.map((thread) => thread.name);
  return rowText({
    until: null,
    runs: runs.map((run) => ({ ...run, thread: own[names.indexOf(run.thread) % own.length] ?? 'thread' })),
  });
}

function whereFor(technique: Technique): string {
  const offered = technique.where;
  if (technique.example.where && offered.includes(technique.example.where)) return technique.example.where;
  return offered[0] ?? technique.example.where ?? 'N';
}

/** The example's params, the form's own, and then every count the ball's lines allow. */
export function paramsTried(technique: Technique, ways: number): Params[] {
  const list: Params[] = [{ ...technique.example.params }, {}];
  const counts = Object.entries(technique.schema.properties ?? {}).filter(
    ([, field]) => field.type === 'integer' && (field.minimum ?? 0) >= 3,
  );
  for (const [name, field] of counts) {
    for (let n = field.minimum ?? 3; n <= Math.min(ways, field.maximum ?? ways); n++) {
      if (ways % n === 0) list.push({ ...technique.example.params, [name]: n });
    }
  }
  return list.slice(0, MOST_TRIED);
}

export function layerOf(technique: Technique, design: DesignDocument, params: Params): LayerSpec {
  const taken = layersOf(design).map((layer) => layer.name);
  return {
    name: freeName(technique.title.toLowerCase().slice(0, 50), taken),
    technique: technique.name,
    where: whereFor(technique),
    rows: rowsFor(technique, design),
    params,
  };
}

type Try = (document: DesignDocument) => Promise<Scene>;

/** The first layer that the engine can make, or why none can be made. */
export async function fitting(technique: Technique, design: DesignDocument, ways: number, attempt: Try) {
  let what = '';
  for (const params of paramsTried(technique, ways)) {
    const layer = layerOf(technique, design, params);
    const scene = await attempt(withLayers(design, [layer]));
    if (scene.wrong === null) return { layer, what: null };
    what ||= scene.wrong.what;
  }
  return { layer: layerOf(technique, design, { ...technique.example.params }), what };
}
