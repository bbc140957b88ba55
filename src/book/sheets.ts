/** The sheets there are, in the order they are bound. Adding one is a line here and a file of its own. */
import type { BookFacts } from './facts.ts';
import type { DraftPage } from './sheet.ts';
import { sheetAngles } from './sheetAngles.ts';
import { sheetAsShot } from './sheetAsShot.ts';
import { sheetCards } from './sheetCards.ts';
import { sheetCautions } from './sheetCautions.ts';
import { sheetCuts } from './sheetCuts.ts';
import { sheetKit } from './sheetKit.ts';
import { sheetMeter } from './sheetMeter.ts';
import { sheetPlan } from './sheetPlan.ts';
import { sheetPower } from './sheetPower.ts';
import { sheetRecce } from './sheetRecce.ts';
import { sheetSection } from './sheetSection.ts';
import { sheetStands } from './sheetStands.ts';

export interface SheetKind {
  id: string;
  words: string;
  /** Tells what the light does: prints without it, and says that nobody has read it. */
  light: boolean;
  build: (f: BookFacts) => DraftPage[];
}

export const SHEETS = [
  { id: 'plan', words: 'Plan and score', light: true, build: sheetPlan },
  { id: 'angles', words: 'A plan for each angle', light: true, build: sheetAngles },
  { id: 'section', words: 'Side sections', light: false, build: sheetSection },
  { id: 'stands', words: 'Where they can stand', light: true, build: sheetStands },
  { id: 'cards', words: 'Angle cards, four to a sheet', light: true, build: sheetCards },
  { id: 'power', words: 'Power', light: false, build: sheetPower },
  { id: 'kit', words: 'Kit and leads', light: false, build: sheetKit },
  { id: 'cuts', words: 'Cut list: gel and diffusion', light: false, build: sheetCuts },
  { id: 'meter', words: 'Metering', light: true, build: sheetMeter },
  { id: 'asshot', words: 'As shot', light: true, build: sheetAsShot },
  { id: 'recce', words: 'Recce form', light: false, build: sheetRecce },
  { id: 'cautions', words: 'Cautions', light: true, build: sheetCautions },
] as const satisfies readonly SheetKind[];

export type SheetId = (typeof SHEETS)[number]['id'];
export const SHEET_IDS: readonly SheetId[] = SHEETS.map((s) => s.id);
