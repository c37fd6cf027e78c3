import tseslint from 'typescript-eslint';

// Few rules, each of which has caught something: a promise nobody waits for, a case nobody thought of.
export default tseslint.config(
  { ignores: ['dist/**', 'node_modules/**', 'data/**', '.dist-*/**', 'templates/**'] },
  {
    files: ['apps/**/*.ts', 'libs/**/*.ts', 'tests/**/*.ts'],
    languageOptions: {
      parser: tseslint.parser,
      parserOptions: { project: 'tests/tsconfig.json', tsconfigRootDir: import.meta.dirname },
    },
    plugins: { '@typescript-eslint': tseslint.plugin },
    rules: {
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/no-misused-promises': ['error', { checksVoidReturn: false }],
      '@typescript-eslint/switch-exhaustiveness-check': ['error', { considerDefaultExhaustiveForUnions: true }],
      '@typescript-eslint/await-thenable': 'error',
      '@typescript-eslint/no-explicit-any': 'error',
      eqeqeq: 'error',
      'no-var': 'error',
      'prefer-const': 'error',
    },
  },
);
