/** Where the browser program begins. */
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
import { keepOffline } from './keepOffline.ts';
import { Works } from './Works.tsx';

const root = document.getElementById('root');
if (root)
  createRoot(root).render(<StrictMode>{location.hash === '#works' ? <Works /> : <App />}</StrictMode>);

keepOffline();
