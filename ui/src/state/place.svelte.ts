import { routeOf, type Route } from '../router'

/** Where one is, following the address. */
class Place {
  route = $state.raw<Route>(routeOf(location.hash))

  constructor() {
    addEventListener('hashchange', () => (this.route = routeOf(location.hash)))
  }
}

export const place = new Place()
