/* output.c - results on standard output, words on standard error; nothing lost silently
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/cli.h"

#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "base/savefile.h"
#include "base/str.h"

static bool closed;   /* standard output was closed when we began */

/* open() takes the lowest free descriptor, so walking upwards it lands on the missing one; if it does
 * not, nothing more can be done. */
void out_prepare(void)
{
	for (int fd = 0; fd <= 2; fd++)
		if (fcntl(fd, F_GETFD) < 0 && errno == EBADF) {
			closed = closed || fd == 1;
			if (open("/dev/null", fd == 0 ? O_RDONLY : O_WRONLY) != fd)
				return;
		}
}

/* Without errno the reason is unknown, but that it was lost is sure. */
static enum ab_status lost(struct cli *cli, int error)
{
	return ab_fail(&cli->diag, AB_ESYSTEM, NULL, 0, "standard output cannot be written: %s",
	    error != 0 ? strerror(error) : "unknown reason");
}

/* Buffered: a full disk may only show in out_close, which is why both can fail. */
enum ab_status out_text(struct cli *cli, const char *text)
{
	if (closed)
		return lost(cli, EBADF);
	progress_hide();
	errno = 0;
	return fputs(text, stdout) == EOF ? lost(cli, errno) : AB_OK;
}

/* fclose can still lose data (a network disk), so its word counts. */
enum ab_status out_close(struct cli *cli)
{
	errno = 0;
	if (fflush(stdout) != 0 || ferror(stdout))
		return lost(cli, errno);
	return fclose(stdout) != 0 ? lost(cli, errno) : AB_OK;
}

/* Frees in every case, so that the commands can end in "return out_report(...)". */
enum ab_status out_report(struct cli *cli, enum ab_status st, char *text)
{
	if (st == AB_OK)
		st = out_text(cli, text);
	ab_report_free(text);
	return st;
}

/* A file's name may hold escape sequences, so it is scrubbed before it reaches a terminal. A status
 * without text is a slip of ours; its name is better than an empty line. */
void err_diag(const struct ab_diag *diag)
{
	char where[AB_DIAG_SOURCE + 32] = "", source[AB_DIAG_SOURCE];
	snprintf(source, sizeof source, "%s", diag->source);
	ab_text_scrub(source);
	if (diag->source[0] != '\0' && diag->line > 0)
		snprintf(where, sizeof where, "%s:%ld: ", source, diag->line);
	else if (diag->source[0] != '\0')
		snprintf(where, sizeof where, "%s: ", source);
	progress_hide();
	/* An example at the end has a line of its own. */
	const char *text = diag->text[0] != '\0' ? diag->text : ab_status_name(diag->status),
		   *example = strstr(text, ". Example: ");
	fprintf(stderr, "afterboil: %s%.*s\n", where, example != NULL ? (int)(example - text) : (int)strlen(text),
	    text);
	if (example != NULL)
		fprintf(stderr, "  Example: %s\n", example + strlen(". Example: "));
}

/* Scrubbed after formatting: whatever the arguments brought with them. */
void err_note(const char *fmt, ...)
{
	char text[1024];
	va_list ap;
	va_start(ap, fmt);
	vsnprintf(text, sizeof text, fmt, ap);
	va_end(ap);
	ab_text_scrub(text);
	progress_hide();
	fprintf(stderr, "afterboil: %s\n", text);
}

enum ab_status out_document(struct cli *cli, char *text)
{
	enum ab_status st;

	if (cli->o.output == NULL || strcmp(cli->o.output, "-") == 0)
		return out_report(cli, AB_OK, text);
	st = ab_savefile(cli->o.output, text, strlen(text), &cli->diag);
	ab_report_free(text);
	if (st == AB_OK)
		err_note("written: %s", cli->o.output);
	return st;
}
