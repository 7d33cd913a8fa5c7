// Builds the service worker beside the page, with the list of the page's own files and a version made of them.
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { build } from 'esbuild';
import type { Plugin } from 'vite';

const source = 'src/phone/sw.ts';

function hashOf(parts: string[]): string {
  const hash = createHash('sha256');
  for (const part of parts) hash.update(part);
  return hash.digest('hex').slice(0, 16);
}

function publicFiles(folder: string): string[] {
  return existsSync(folder) ? readdirSync(folder).sort() : [];
}

async function workerCode(version: string, shell: string[]): Promise<string> {
  const result = await build({
    entryPoints: [source],
    bundle: true,
    minify: true,
    format: 'iife',
    target: 'es2022',
    write: false,
    define: { VERSION: JSON.stringify(version), SHELL: JSON.stringify(shell) },
  });
  return result.outputFiles[0]?.text ?? '';
}

export function serviceWorker(): Plugin {
  let folder = 'public';
  return {
    name: 'service-worker',
    apply: 'build',
    enforce: 'post',
    configResolved(config) {
      folder = config.publicDir;
    },
    async generateBundle(_, bundle) {
      const fixed = publicFiles(folder);
      const made = Object.keys(bundle).filter((name) => !name.endsWith('.map') && name !== 'index.html');
      const page = bundle['index.html'];
      const contents = fixed.map((name) => readFileSync(`${folder}/${name}`, 'latin1'));
      const html = page?.type === 'asset' ? String(page.source) : '';
      const version = hashOf([html, ...made, ...contents, await workerCode('', [])]);
      const shell = ['/', ...made.map((name) => `/${name}`), ...fixed.map((name) => `/${name}`)];
      this.emitFile({ type: 'asset', fileName: 'sw.js', source: await workerCode(version, shell) });
    },
  };
}
