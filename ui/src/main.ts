import '@fontsource-variable/atkinson-hyperlegible-next/wght.css'
import './theme.css'
import { mount } from 'svelte'
import App from './App.svelte'
import { install } from './bridge/install'
import { crewBridge } from './bridge/bridge'

const target = document.getElementById('app')
if (target) mount(App, { target })
if (crewBridge) install()
