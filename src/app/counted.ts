/** Before a shoot leaves the program on paper or as a file: its version number grows if anything was changed. */
import { editionIsNew } from '../shoot/edition.ts';
import type { Shoot } from '../shoot/schema.ts';
import { useStore } from './store.ts';

/** The open shoot, counted; one that may only be read stays as it is. */
export function countedShoot(): Shoot | undefined {
  const { history, readOnly, act } = useStore.getState();
  if (history && !readOnly && editionIsNew(history.shoot)) act({ edit: 'countEdition', args: {} });
  return useStore.getState().history?.shoot;
}
