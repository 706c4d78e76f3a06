// Has @actions/core write an annotation for each case: node actions_core.mjs FOLDER_WITH_NODE_MODULES CASES.json
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [folder, file] = process.argv.slice(2);
const core = await import(pathToFileURL(`${folder}/node_modules/@actions/core/lib/core.js`));
const cases = JSON.parse(readFileSync(file, "utf8"));
const write = process.stdout.write.bind(process.stdout);
for (const one of cases) {
  const properties = { title: one.title, file: one.file, startLine: one.line, startColumn: one.column };
  one.written = "";
  process.stdout.write = (text) => ((one.written += text), true);
  core[one.level](one.message, properties);
  process.stdout.write = write;
}
write(JSON.stringify(cases, null, 1) + "\n");
