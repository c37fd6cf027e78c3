import tseslint from 'typescript-eslint';

/**
 * typescript-eslint's recommended set with types, which knows a promise nobody waits for and an `any` that spreads.
 * Each rule that differs from that set says why.
 */
export default tseslint.config(
  { ignores: ['dist/**', 'node_modules/**', 'data/**', '.dist-*/**', 'templates/**/*.js'] },
  { linterOptions: { reportUnusedDisableDirectives: 'error' } },
  {
    files: ['apps/**/*.ts', 'libs/**/*.ts', 'templates/**/*.ts', 'templates/**/*.tsx', 'tests/**/*.ts'],
    extends: [...tseslint.configs.recommendedTypeChecked],
    languageOptions: {
      parserOptions: { project: 'tests/tsconfig.json', tsconfigRootDir: import.meta.dirname },
    },
    rules: {
      // An async function given where nothing is awaited (an event, a timer) is common and its rejection is caught by
      // no-floating-promises inside it.
      '@typescript-eslint/no-misused-promises': ['error', { checksVoidReturn: false }],
      '@typescript-eslint/switch-exhaustiveness-check': ['error', { considerDefaultExhaustiveForUnions: true }],
      // tsc (noUnusedLocals) sees the rest; a name is left out of a copy by taking it apart.
      '@typescript-eslint/no-unused-vars': [
        'error',
        { ignoreRestSiblings: true, varsIgnorePattern: '^_', argsIgnorePattern: '^_' },
      ],
      // `async` on a function that has nothing to wait for turns what it throws into a rejection, as its type promises.
      '@typescript-eslint/require-await': 'off',
      eqeqeq: 'error',
      'no-var': 'error',
      'prefer-const': 'error',
    },
  },
);
