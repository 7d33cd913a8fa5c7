import '@fontsource-variable/inter';
import './app/look.css';
import './app/parts.css';
import { mount } from 'svelte';
import App from './app/App.svelte';
import { startPhone } from './phone/start';

const target = document.getElementById('page');
if (target) mount(App, { target });
startPhone();
