// node embed-page.mjs FOLDER OUTPUT.cpp: writes a C++ file that holds every file of FOLDER by its path, whatever
// bytes it has: the assembler reads them.
import { readdirSync, writeFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';

const [folder, output] = process.argv.slice(2);

function filesBelow(directory) {
  return readdirSync(directory, { withFileTypes: true })
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) =>
      entry.isDirectory() ? filesBelow(join(directory, entry.name)) : [join(directory, entry.name)],
    );
}

const files = filesBelow(folder);
const blobs = files.map(
  (file, i) => `asm(".section .rodata\\n.balign 16\\npage_${i}:\\n.incbin \\"${file}\\"\\npage_${i}_end:\\n.byte 0\\n.previous\\n");
extern "C" const char page_${i}[], page_${i}_end[];
`,
);
const rows = files.map((file, i) => {
  const path = `/${relative(folder, file).split(sep).join('/')}`;
  return `      {"${path}", {page_${i}, static_cast<std::size_t>(page_${i}_end - page_${i})}},\n`;
});

writeFileSync(
  output,
  `#include "serve/embedded_page.hpp"

${blobs.join('')}
namespace firstdraw::serve {

const std::vector<std::pair<std::string_view, std::string_view>>& embedded_page() {
  static const std::vector<std::pair<std::string_view, std::string_view>> files{
${rows.join('')}  };
  return files;
}

}  // namespace firstdraw::serve
`,
);
