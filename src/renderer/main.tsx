import { QueryClientProvider } from '@tanstack/react-query';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { BrowserRouter } from 'react-router';
import './style/fonts.css';
import './style/tokens.css';
import './style/base.css';
import { App } from './app.tsx';
import { queries } from './session/client.ts';
import { nameWindow } from './session/drafts.ts';
import { applyTheme } from './session/theme.ts';

applyTheme();
await nameWindow();

const root = document.getElementById('root');
if (root) {
  createRoot(root).render(
    <StrictMode>
      <QueryClientProvider client={queries}>
        <BrowserRouter>
          <App />
        </BrowserRouter>
      </QueryClientProvider>
    </StrictMode>,
  );
}
