/**
 * Light against published values and closed forms, one row a value; ids follow the list of acceptance checks
 * [CHECKS-LIGHT §8]. Rows that need a traced scene (3, 5, 6, 7) stand with the transport.
 */
import { airRows } from './lightAir.ts';
import { fileRows } from './lightFiles.ts';
import { cieRows, closedRows } from './lightGeometry.ts';
import { lampRows } from './lightLamps.ts';
import { skyRows } from './lightSky.ts';
import { windowRows } from './lightWindow.ts';
import type { CheckRow } from './row.ts';

/** The check rows of light. */
export const rows = (): CheckRow[] => [
  ...cieRows(),
  ...windowRows(),
  ...skyRows(),
  ...closedRows(),
  ...lampRows(),
  ...fileRows(),
  ...airRows(),
];
