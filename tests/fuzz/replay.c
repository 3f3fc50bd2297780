/* replay.c - main for a fuzz entry where libFuzzer is not wanted
 *
 * replay FILE|FOLDER... hands each file to LLVMFuzzerTestOneInput once and prints the count. A crash is the finding.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include <dirent.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

enum { LARGEST = 1 << 20 };

static int replay_file(const char *path)
{
	FILE *in = fopen(path, "rb");
	uint8_t *data = malloc(LARGEST), *exact;
	size_t n;

	if (in == NULL || data == NULL) {
		perror(path);
		exit(EXIT_FAILURE);
	}
	n = fread(data, 1, LARGEST, in);
	fclose(in);
	/* an exact copy, so that a sanitizer sees one byte too far */
	exact = realloc(data, n > 0 ? n : 1);
	LLVMFuzzerTestOneInput(exact, n);
	free(exact);
	return 1;
}

static int replay(const char *path)
{
	char inside[4096];
	struct dirent *e;
	struct stat st;
	int n = 0;
	DIR *dir;

	if (stat(path, &st) != 0 || !S_ISDIR(st.st_mode))
		return replay_file(path);
	dir = opendir(path);
	while (dir != NULL && (e = readdir(dir)) != NULL) {
		if (e->d_name[0] == '.')
			continue;
		if ((size_t)snprintf(inside, sizeof inside, "%s/%s", path, e->d_name) < sizeof inside)
			n += replay(inside);
	}
	if (dir != NULL)
		closedir(dir);
	return n;
}

int main(int argc, char **argv)
{
	int n = 0;

	for (int i = 1; i < argc; i++)
		n += replay(argv[i]);
	printf("%d\n", n);
	return n > 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
