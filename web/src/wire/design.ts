/** The design document as the maker wrote it, as far as the panels need to know it. */

export interface ThreadSpec {
  name: string;
  colour: string;
  fibre?: string;
  size?: string;
  metallic?: boolean;
  rows_per_cm?: number | null;
  tex?: number | null;
  skein?: string | null;
  have?: string | null;
}

/** A crossing settled by hand: this layer's thread and another, and which lies over which. */
export interface ChosenSpec {
  place: string;
  row: number;
  leg: number;
  other: string;
  other_place: string;
  other_row: number;
  other_leg: number;
  lies: 'over' | 'under';
  at: 'this crossing' | 'every like place' | 'whole group';
}

export interface LayerSpec {
  name: string;
  technique: string;
  where: string | string[];
  rows: string;
  start?: string;
  direction?: 'right' | 'left';
  combine?: 'overlapped' | 'layered';
  together?: string | null;
  under?: { layer: string; rule?: string }[];
  crossings?: ChosenSpec[];
  params?: Record<string, unknown>;
  notes?: string;
}

export interface DesignDocument {
  format: number;
  name: string;
  level?: string;
  ball: { around: string; colour?: string; measured?: { pole_to_pole?: string[]; obi?: string[] } };
  maker?: { hand?: 'right' | 'left'; units?: 'mm' | 'in'; [key: string]: unknown };
  threads: ThreadSpec[];
  marking: { division: string; thread?: string | null; support?: unknown[] };
  layers?: LayerSpec[];
  notes?: string;
}
