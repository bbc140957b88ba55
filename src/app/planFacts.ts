/** What the plan is drawn from: filled in one place for screen and paper. */
export { planFacts } from '../scheme/planFacts.ts';
