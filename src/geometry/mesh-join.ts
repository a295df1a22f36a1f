import type { TriangleMesh } from './mesh-box.ts';

/** Several meshes as one, in order; the only one as it is, null for none. */
export function joinMeshes(meshes: readonly TriangleMesh[]): TriangleMesh | null {
  const [only] = meshes;
  if (only === undefined) return null;
  if (meshes.length === 1) return only;
  const positionsMm = new Float64Array(meshes.reduce((n, m) => n + m.positionsMm.length, 0));
  const triangles = new Uint32Array(meshes.reduce((n, m) => n + m.triangles.length, 0));
  let vertexAt = 0;
  let triangleAt = 0;
  for (const mesh of meshes) {
    positionsMm.set(mesh.positionsMm, vertexAt);
    const first = vertexAt / 3;
    mesh.triangles.forEach((vertex, n) => {
      triangles[triangleAt + n] = vertex + first;
    });
    vertexAt += mesh.positionsMm.length;
    triangleAt += mesh.triangles.length;
  }
  return { positionsMm, triangles };
}
