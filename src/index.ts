export { SealbookError } from './basics/errors.ts';
