// Addresses of the time when the reference was one page still lead to the right place: each old place is now a link in
// the list of contents, and who came for it is sent on.

function sendOn() {
  const place = document.getElementById(decodeURIComponent(location.hash.slice(1)));
  if (place && place.href) location.replace(place.href);
}

sendOn();
addEventListener("hashchange", sendOn);
