import { expect, test } from 'vitest';
import { indexRooms, roomNamed } from '../../../src/match/rooms.ts';
import { makeIssue } from '../../makers/issue/make-issue.ts';

test('a room of a plan is known by each line of its stamp, one that two rooms share by none', () => {
  const [penetration] = makeIssue().penetrations;
  if (penetration === undefined) throw new Error('The maker gives penetrations.');
  const between = (near: string, far: string) => ({
    ...penetration,
    where: { ...penetration.where, spaces: { near, far } },
  });
  const rooms = indexRooms(null, [
    between('PUMP HALL / R.012', 'STORE / R.013'),
    between('STORE / R.014', 'PUMP HALL / R.012'),
  ]);
  const hall = roomNamed(rooms, 'Pump hall');
  expect(hall).not.toBeNull();
  expect(roomNamed(rooms, 'MCC-1, R.012')).toBe(hall);
  expect(roomNamed(rooms, 'PUMP HALL / R.012')).toBe(hall);
  expect(roomNamed(rooms, 'store')).toBeNull();
  expect(roomNamed(rooms, 'R.014')).not.toBe(roomNamed(rooms, 'R.013'));
});
