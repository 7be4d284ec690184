/** English as it is spoken on sites in the United States. */
export const enUS = {
  app: {
    name: 'Truefall',
    back: 'Back',
  },
  asked: {
    waiting: 'One moment …',
    noLink: 'Truefall did not answer. Nothing you entered is lost.',
    again: 'Try again',
    refused: 'That did not work.',
  },
  verdict: {
    within: 'within',
    out: 'out',
    'too-close-to-call': 'too close to call',
    'not-tested': 'not tested',
  },
  findings: {
    title: 'Findings',
  },
  height: {
    title: 'Height',
  },
  cutList: {
    title: 'Cut list',
  },
}
