import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { ARCHITECTURE_FILE, architectureIfc } from './make/architecture.ts';
import { SERVICES_FILE, servicesIfc } from './make/services.ts';

const here = path.dirname(fileURLToPath(import.meta.url));

function write(folder: string, name: string, content: string | Uint8Array): void {
  mkdirSync(path.join(here, folder), { recursive: true });
  writeFileSync(path.join(here, folder, name), content);
}

write('pumping-station', ARCHITECTURE_FILE, architectureIfc());
write('pumping-station', SERVICES_FILE, servicesIfc());
