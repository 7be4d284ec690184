import type { Profile } from '../bridge/generated/Profile'
import type { ProfilePoint } from '../bridge/generated/ProfilePoint'

export type Read = ProfilePoint & { z: number }

/** Factors by which heights are drawn larger than lengths. */
const FACTORS = [1, 2, 5, 10, 20, 30, 40, 50, 75, 100, 150, 200]

/** The points of a profile that were read, in order along it. */
export function read(profile: Profile): Read[] {
  return profile.points.filter((point): point is Read => typeof point.z === 'number')
}

/** From the lowest to the highest of a profile and its straightedge, in mm. */
export function rise(profile: Profile): number {
  const heights = read(profile).map(({ z }) => z)
  return heights.length ? Math.max(...heights) - Math.min(...heights) : 0
}

/** The greatest factor at which the steepest of the profiles still fits `tall` px at `scale` px per mm. */
export function exaggeration(profiles: readonly Profile[], scale: number, tall: number): number {
  const most = Math.max(1, ...profiles.map(rise))
  return FACTORS.filter((factor) => most * scale * factor <= tall).at(-1) ?? 1
}
