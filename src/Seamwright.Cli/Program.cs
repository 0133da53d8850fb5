using System.Text;
using Seamwright.Cli;

Console.OutputEncoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false);
return SeamwrightCommand.Run(args, Terminal.OfProcess(), TimeProvider.System);
