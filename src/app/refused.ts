/** What could not be taken in, said where it happened. */
import { create } from 'zustand';

export interface Refusal {
  words: string[];
  /** Where on the page; absent: at its foot. */
  at: { x: number; y: number } | undefined;
  /** Still under way: nothing is wrong yet. */
  busy?: boolean;
  /** What may be done about it. */
  acts?: { words: string; act: () => void }[];
}
export const useRefused = create<{ refused: Refusal | undefined }>(() => ({ refused: undefined }));
export const refuse = (refused: Refusal | undefined): void => useRefused.setState({ refused });
