import type { InputFile } from '../model/input.ts';
import type { Register } from '../model/register.ts';
import { readRegister } from '../read/register/read-register.ts';
import { registerText } from '../write/register/register-text.ts';
import type { Platform } from './platform.ts';

/** The register of a file. Throws `input-unreadable` when it is damaged. */
export async function openRegister(file: InputFile, sha256: Platform['sha256']): Promise<Register> {
  return readRegister(file, sha256);
}

/** The register as bytes, with its end line. */
export async function registerBytes(
  register: Register,
  sha256: Platform['sha256'],
): Promise<Uint8Array> {
  return new TextEncoder().encode(await registerText(register, sha256));
}
