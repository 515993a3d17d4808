import react from '@vitejs/plugin-react';
import { defineConfig } from 'electron-vite';

/** Entries of the doors and the workers, each compiled to out/main/<name>.js. */
const main = ['electron', 'browser-door', 'call', 'handler-worker', 'report-worker', 'learn-worker'];

/** The start script compiles beside the present program and swaps it in. */
const out = process.env.BENCH_TALLY_OUT ?? 'out';

export default defineConfig({
  main: {
    build: {
      // One file instead of hundreds to look up at every start; only what carries binaries or data files stays outside.
      externalizeDeps: false,
      outDir: `${out}/main`,
      sourcemap: true,
      rolldownOptions: {
        input: Object.fromEntries(main.map((name) => [name, `src/main/${name}.ts`])),
        // write-excel-file brings a `require` of its own that clashes with the packager's in one file.
        external: ['electron', 'better-sqlite3', 'pdfkit', /^write-excel-file/],
        // Pieces lie beside the entries, so that a path from import.meta.url means the same in both.
        output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' },
      },
    },
  },
  renderer: {
    root: 'src/renderer',
    // Pages lie below the root (/bench/1043), so addresses of assets start at the root; without this hook
    // the packager's default of relative addresses wins.
    plugins: [react(), { name: 'addresses-from-root', config: () => ({ base: '/' }) }],
    build: {
      outDir: `${out}/renderer`,
      cssTarget: ['chrome123', 'firefox120', 'safari17.5'],
      // The content security policy allows no data: addresses, so nothing is inlined.
      assetsInlineLimit: 0,
      minify: true,
      modulePreload: { polyfill: false },
      rolldownOptions: { input: 'src/renderer/index.html' },
    },
  },
});
