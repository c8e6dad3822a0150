-- The key that packets are signed by, and a signature by it.
INSERT INTO signing_keys (number, public, recorded, by)
    VALUES (1, 'ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIPbMNtRIyZy4jJxfUOWaHnXtr4ymtAShOW1A6pYrI3FM tackbook-packets', '2031-02-03T15:10:00.000000Z', 'Office');
INSERT INTO round_signatures (round, key, signature)
    VALUES ('0190a000-0000-7000-8000-0000000000a0', 1, '-----BEGIN SSH SIGNATURE-----
U1NIU0lHAAAAAQAAADMAAAALc3NoLWVkMjU1MTkAAAAg9sw21EjJnLiMnF9Q5Zoede2vjK
a0BKE5bUDqlisjcUwAAAAEZmlsZQAAAAAAAAAGc2hhNTEyAAAAUwAAAAtzc2gtZWQyNTUx
OQAAAEAxIp1XRWNwy9JfHNxtlVaw/1ZRpNi3qdqYp3odP73wgZzhxYpnrkoG+Zp6BOclbo
mhnSTBvXD9ixOwCn/tBTUK
-----END SSH SIGNATURE-----
');
