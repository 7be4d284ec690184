import type { Plan } from '../bridge/generated/Plan'
import type { PointView } from '../bridge/generated/PointView'
import type { RoomView } from '../bridge/generated/RoomView'
import type { SurveyView } from '../bridge/generated/SurveyView'
import { distance, place, type Shown } from '../units'
import { called, words } from '../words'

/** The place of a point in two lines to stand beside its name: `at 60 in`, `from the door wall`. */
export function placeOf(point: PointView, plan: Plan, units: Shown): [string, string] {
  const { at, from, each } = words().point
  if (point.joist) return [at(distance(point.station, units)), from(wallAlong(plan))]
  return [
    each(distance(point.x, units), called(plan.side_wall)),
    each(distance(point.y, units), called(plan.base_wall)),
  ]
}

/** The name of a point in a sentence: `J4 at 60`, `B3`. */
export function nameOf(point: PointView, units: Shown): string {
  return point.joist ? words().point.named(point.joist, stationText(point.station, units)) : point.id
}

/** The large name of a point: its joist, else its own. */
export function headOf(point: PointView): string {
  return point.joist ?? point.id
}

export function stationText(station: number, units: Shown): string {
  return place(station, units)
}

/** The wall from which the stations of the joists count. */
export function wallAlong(plan: Plan): string {
  return called(plan.joists_along === 'y' ? plan.base_wall : plan.side_wall)
}

/** The survey named, else the first that is not complete, else the last. */
export function surveyOf(view: RoomView, id?: string): SurveyView | undefined {
  const named = view.surveys.find((survey) => survey.id === id)
  return named ?? view.surveys.find((survey) => survey.read < survey.points.length) ?? view.surveys.at(-1)
}

/** The point that was read last. */
export function lastRead(points: PointView[]): PointView | undefined {
  const read = points.filter((point) => point.reading)
  return read.reduce<PointView | undefined>(
    (last, point) => (!last || point.reading!.at >= last.reading!.at ? point : last),
    undefined,
  )
}

/** The next point without a reading after this one in walking order, starting over at the end. */
export function nextUnread(points: PointView[], after?: string, except?: string): PointView | undefined {
  const at = points.findIndex((point) => point.id === after) + 1
  return [...points.slice(at), ...points.slice(0, at)].find((point) => !point.reading && point.id !== except)
}
