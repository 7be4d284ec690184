import type { Plan } from '../bridge/generated/Plan'

/** The plan with the places of a survey to be read once more, as a survey of its own; and that survey's id. */
export function readAgain(plan: Plan, id: string, name: string): { plan: Plan; survey: string } {
  const before = plan.surveys.find((survey) => survey.id === id)
  if (!before) return { plan, survey: id }
  const taken = new Set([...plan.surveys, ...plan.points].map((one) => one.id))
  const free = (base: string) => {
    let time = 2
    while (taken.has(`${base}·${time}`)) time += 1
    return `${base}·${time}`
  }
  const survey = free(id)
  const points = plan.points
    .filter((point) => point.survey === id)
    .map((point) => ({ ...point, id: free(point.id), survey }))
  return {
    plan: { ...plan, surveys: [...plan.surveys, { ...before, id: survey, name }], points: [...plan.points, ...points] },
    survey,
  }
}
