import { app, BrowserWindow, dialog, Menu, net, protocol, session, shell } from 'electron';
import { Problem } from '../problem.ts';
import { pageFor } from './pages.ts';
import { pagesFolder, startOptions } from './program.ts';
import type { WorkerDoor } from './worker-door.ts';
import { startWorkers } from './workers.ts';

/** The desktop door: a window on the program's own scheme, answered by the handler; no network port is opened. */

const scheme = 'app';
const home = `${scheme}://bench-tally/`;

protocol.registerSchemesAsPrivileged([
  { scheme, privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true } },
]);

let window: BrowserWindow | null = null;
let workers: WorkerDoor | null = null;

async function answer(request: Request): Promise<Response> {
  const { host, pathname } = new URL(request.url);
  if (host !== 'bench-tally') return new Response('Not found', { status: 404 });
  if (!pathname.startsWith('/api/')) return pageFor(pagesFolder, pathname);
  return workers ? workers.handle(request) : new Response('Not ready', { status: 503 });
}

function openWindow(): void {
  window = new BrowserWindow({
    width: 1280,
    height: 800,
    minWidth: 720,
    minHeight: 560,
    title: 'Bench Tally',
    backgroundColor: '#f6f2ea',
    webPreferences: { sandbox: true, contextIsolation: true, nodeIntegration: false, webSecurity: true },
  });
  window.webContents.setWindowOpenHandler(({ url }) => {
    if (url.startsWith('https://')) void shell.openExternal(url);
    return { action: 'deny' };
  });
  window.webContents.on('will-navigate', (event, url) => {
    if (!url.startsWith(home)) event.preventDefault();
  });
  window.on('closed', () => {
    window = null;
  });
  void window.loadURL(home).then(() => process.send?.('ready'));
}

function menu(): Menu {
  const goTo = (path: string) => (): void => {
    void window?.loadURL(`${home}${path}`);
  };
  return Menu.buildFromTemplate([
    {
      label: 'Shop',
      submenu: [
        { label: 'Counter', accelerator: 'CmdOrCtrl+1', click: goTo('counter') },
        { label: 'Bench', accelerator: 'CmdOrCtrl+2', click: goTo('bench') },
        { label: 'Office', accelerator: 'CmdOrCtrl+3', click: goTo('office') },
        { label: 'Handbook', accelerator: 'CmdOrCtrl+4', click: goTo('handbook') },
        { type: 'separator' },
        { label: 'Back up or restore shop data …', click: goTo('office/backup') },
        { type: 'separator' },
        { role: 'quit' },
      ],
    },
    { role: 'editMenu' },
    { role: 'viewMenu' },
    { role: 'windowMenu' },
  ]);
}

async function start(): Promise<void> {
  const options = startOptions(process.argv.slice(app.isPackaged ? 1 : 2));
  if (!app.requestSingleInstanceLock({ dataFolder: options.dataFolder })) {
    process.send?.('ready');
    app.quit();
    return;
  }
  app.on('second-instance', () => {
    if (!window) return openWindow();
    if (window.isMinimized()) window.restore();
    window.focus();
  });
  await app.whenReady();
  session.defaultSession.setPermissionRequestHandler((_contents, _permission, decide) => decide(false));
  workers = await startWorkers(options.dataFolder, 'desktop');
  protocol.handle(scheme, answer);
  Menu.setApplicationMenu(menu());
  openWindow();
  if (options.demo)
    await net.fetch(`${home}api/shop.demo`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: '{}',
    });
}

app.on('window-all-closed', () => {
  const open = workers;
  workers = null;
  (open?.close() ?? Promise.resolve()).finally(() => app.quit());
});
app.on('activate', () => {
  if (!window && workers) openWindow();
});

start().catch((error: unknown) => {
  const problem =
    error instanceof Problem ? error : new Problem('unexpected', undefined, undefined, { cause: error });
  const text = `${problem.message}\n\n${problem.report().next}`;
  if (process.send) process.send({ failed: text });
  else dialog.showErrorBox('Bench Tally', text);
  app.exit(1);
});
