/** The first script of the page: begins what need not wait for the program, then the program. */
import './early.ts';

void import('./main.tsx');
