// Tests take their servers from the harness, never from the environment that the run was started in.
delete process.env['DATABASE_URL'];
delete process.env['REDIS_URL'];
