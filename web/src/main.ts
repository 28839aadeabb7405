import '@fontsource/atkinson-hyperlegible-next/400.css';
import '@fontsource/atkinson-hyperlegible-next/500.css';
import '@fontsource/atkinson-hyperlegible-next/600.css';
import '@fontsource/source-serif-4/400.css';
import '@fontsource/source-serif-4/600.css';
import './styles/tokens.css';
import './styles/base.css';
import './styles/overlay.css';
import './styles/rooms.css';
import { mount } from 'svelte';
import App from './panels/App.svelte';

mount(App, { target: document.getElementById('app')! });

// Over a plain home-network address browsers offer no service worker; the page then lives as long as it stays open.
if (import.meta.env.PROD && 'serviceWorker' in navigator) navigator.serviceWorker.register('/sw.js').catch(() => {});
