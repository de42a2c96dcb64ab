import { readFileSync } from 'node:fs';
import { demoCase, packageCatalogue } from '../../src/scenario/load.ts';
import { deskText } from '../../src/viz/write/desk.ts';

/** A desk opened on the demo case, as the command writes it. */
export function deskPage(text = readFileSync(demoCase('erythritol'), 'utf8')): string {
  const { catalogue, catalogueNames } = packageCatalogue();
  const shelf = Object.fromEntries(
    (['machines', 'materials'] as const).flatMap((kind) =>
      catalogueNames(kind).map((name) => [`${kind}/${name}`, catalogue(`${kind}/${name}`)!] as const),
    ),
  );
  return deskText({ version: 'of a test', text, shelf });
}
