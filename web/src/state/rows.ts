/** A layer's row list as swatches and back: "2 navy, 3 x (1 white, 1 gold)", "until obi: 1 navy". */

export interface Run {
  count: number;
  thread: string;
}

export interface RowWords {
  until: string | null;
  runs: Run[];
  /** Whether groups such as "3 x (…)" were opened out to make the swatches. */
  opened: boolean;
}

const MOST = 400;

/** The swatches of `text`, or none where it cannot be read. */
export function rowWords(text: string): RowWords | null {
  const until = /^\s*until\b\s*([^:]*):([\s\S]*)$/i.exec(text);
  const runs = itemsOf(until ? until[2]! : text);
  if (!runs || runs.length > MOST) return null;
  return { until: until ? until[1]!.trim() : null, runs, opened: text.includes('(') };
}

function itemsOf(text: string): Run[] | null {
  const runs: Run[] = [];
  for (const part of split(text)) {
    const group = /^\s*(\d+)\s*(?:x|×|times)\s*\(([\s\S]*)\)\s*$/i.exec(part);
    const plain = /^\s*(\d+)\s+([^,:()]+?)\s*$/.exec(part);
    if (group) {
      const inner = itemsOf(group[2]!);
      if (!inner || inner.length * Number(group[1]) > MOST) return null;
      for (let k = 0; k < Number(group[1]); k++) runs.push(...inner);
    } else if (plain && Number(plain[1]) > 0)
      runs.push({ count: Number(plain[1]), thread: plain[2]!.replace(/\s+/g, ' ') });
    else return null;
  }
  return runs;
}

/** The parts between commas that stand outside brackets. */
function split(text: string): string[] {
  const parts: string[] = [];
  let depth = 0;
  let start = 0;
  for (let k = 0; k < text.length; k++) {
    if (text[k] === '(') depth += 1;
    else if (text[k] === ')') depth -= 1;
    else if (text[k] === ',' && depth === 0) {
      parts.push(text.slice(start, k));
      start = k + 1;
    }
  }
  return [...parts, text.slice(start)];
}

export function rowText(words: Pick<RowWords, 'until' | 'runs'>): string {
  const runs = words.runs.map((run) => `${run.count} ${run.thread}`).join(', ');
  return words.until === null ? runs : `until ${words.until}: ${runs}`;
}

/** `text` with a thread called otherwise; everything else stays as it was written. */
export function renamedIn(text: string, before: string, after: string): string {
  const escaped = before.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
  return text.replace(new RegExp(`(\\d\\s+)${escaped}(?=\\s*(?:,|\\)|$))`, 'g'), (_, count: string) => count + after);
}
