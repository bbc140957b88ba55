/** Where the browser program begins. */
import { expect } from './early.ts';
import './fonts.css';
import './look.css';
import './book.css';
import './onset.css';
import './room.css';
import './troubles.css';
import './touch.css';
import './phone.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './App.tsx';
import { begin } from './keeper.ts';
import { keepOffline } from './keepOffline.ts';
import { anglesIn, shownShoot, useStore } from './store.ts';
import { Works } from './Works.tsx';

const root = document.getElementById('root');
const works = location.hash === '#works';
const stop = useStore.subscribe((s) => {
  const shoot = shownShoot(s);
  if (!shoot) return;
  stop();
  expect(shoot, anglesIn(shoot, s.scene));
});
// The shoot is read while the page is drawn for the first time.
if (!works) void begin();
if (root) createRoot(root).render(<StrictMode>{works ? <Works /> : <App />}</StrictMode>);

keepOffline();
