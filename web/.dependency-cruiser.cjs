module.exports = {
  forbidden: [
    { name: 'wire-knows-nothing', severity: 'error', from: { path: '^src/wire', pathNot: 'test' }, to: { pathNot: '^src/wire' } },
    { name: 'state-sees-only-wire', severity: 'error', from: { path: '^src/state', pathNot: 'test' }, to: { path: ['^src/(viewport|panels)', 'node_modules/three'] } },
    { name: 'viewport-has-no-framework', severity: 'error', from: { path: '^src/viewport' }, to: { path: ['^src/(state|panels)', 'node_modules/svelte'] } },
    { name: 'panels-draw-no-triangles', severity: 'error', from: { path: '^src/panels' }, to: { path: 'node_modules/three' } },
    { name: 'no-circles', severity: 'error', from: {}, to: { circular: true } },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: { conditionNames: ['svelte', 'import', 'browser', 'default'], extensions: ['.ts', '.js', '.svelte'] },
  },
};
