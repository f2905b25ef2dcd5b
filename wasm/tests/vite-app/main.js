import { civilDay, sunTable } from "apiary-almanac";

const club = { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" };
const { dayLengthH } = civilDay({ site: club, date: "2026-10-04" });
const { latitudeDeg, longitudeDeg, zone } = club;
const { state } = sunTable({ latitudeDeg, longitudeDeg, zone, dates: { first: "2026-01-01", count: 365 } });
document.querySelector("#answer").textContent = `${dayLengthH} hours, ${state.length} days`;
