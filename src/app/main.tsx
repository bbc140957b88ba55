/** Where the browser program begins. */
import './fonts.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { Placeholder } from './Placeholder.tsx';

const root = document.getElementById('root');
if (root)
  createRoot(root).render(
    <StrictMode>
      <Placeholder />
    </StrictMode>,
  );
