// Draws public/icon-*.png from public/icon.svg: node icons/make.mjs. The maskable one keeps its drawing in the inner
// 80 %, on the ground of the icon.
import { readFileSync, writeFileSync } from 'node:fs';
import { chromium } from '@playwright/test';

const svg = readFileSync('public/icon.svg', 'utf8');
const wanted = [
  { name: 'icon-192', px: 192, share: 1 },
  { name: 'icon-512', px: 512, share: 1 },
  { name: 'icon-maskable-512', px: 512, share: 0.8 },
  { name: 'icon-apple-180', px: 180, share: 1 },
];

const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium' });
const page = await browser.newPage();
for (const { name, px, share } of wanted) {
  await page.setViewportSize({ width: px, height: px });
  const inner = Math.round(px * share);
  const ground = share < 1 ? '#17222b' : 'transparent';
  await page.setContent(
    `<style>body{margin:0;display:grid;place-items:center;height:${px}px;background:${ground}}</style>` +
      svg.replace('<svg ', `<svg width="${inner}" height="${inner}" `),
  );
  writeFileSync(`public/${name}.png`, await page.screenshot({ omitBackground: share === 1 }));
}
await browser.close();
