import { mount } from 'svelte';
import App from './App.svelte';
import './fonts.css';
import './theme.css';

const target = document.getElementById('page');
if (!target) throw new Error('the page has no place for itself');
mount(App, { target });
